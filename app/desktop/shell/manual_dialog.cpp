#include "app/desktop/shell/manual_dialog.h"

#include "app/desktop/shared/labels.h"

#include <QDir>
#include <QFile>
#include <QHBoxLayout>
#include <QListWidget>
#include <QTextBrowser>
#include <QUrl>

namespace rw {

namespace {

const QString folder = QStringLiteral(":/manual");

// The chapter's first line, without its mark.
QString titleOf(const QString& file) {
    QFile chapter(folder + u'/' + file);
    if (!chapter.open(QIODevice::ReadOnly)) return file;
    return QString::fromUtf8(chapter.readLine()).trimmed().mid(2);
}

// Pictures are drawn for a wide window; here they take the page's width.
class Page : public QTextBrowser {
public:
    using QTextBrowser::QTextBrowser;

protected:
    QVariant loadResource(int type, const QUrl& name) override {
        QVariant found = QTextBrowser::loadResource(type, name);
        if (type != QTextDocument::ImageResource) return found;
        QImage picture = found.value<QImage>();
        if (picture.isNull()) picture = QImage::fromData(found.toByteArray());
        const qreal scale = devicePixelRatioF();
        const int width = qMax(200, viewport()->width() - 4 * gridStep);
        if (picture.isNull() || picture.width() <= width) return picture;
        picture = picture.scaledToWidth(qRound(width * scale), Qt::SmoothTransformation);
        picture.setDevicePixelRatio(scale);
        return picture;
    }
};

} // namespace

ManualDialog::ManualDialog(QWidget* parent)
    : QDialog(parent)
    , list_(new QListWidget)
    , page_(new Page) {
    setObjectName(QStringLiteral("manual"));
    setWindowTitle(tr("Manual"));
    resize(120 * gridStep, 84 * gridStep);
    auto* row = new QHBoxLayout(this);
    row->addWidget(list_);
    row->addWidget(page_, 1);
    list_->setFixedWidth(28 * gridStep);
    list_->setAccessibleName(tr("Chapters"));
    page_->setAccessibleName(tr("Chapter"));
    page_->setOpenExternalLinks(false);
    page_->setFrameShape(QFrame::NoFrame);
    for (const QString& file : QDir(folder).entryList({QStringLiteral("*.md")}, QDir::Files, QDir::Name)) {
        auto* item = new QListWidgetItem(titleOf(file), list_);
        item->setData(Qt::UserRole, file);
    }
    connect(list_, &QListWidget::currentItemChanged, this, [this](const QListWidgetItem* item) {
        if (!item) return;
        page_->setSource(QUrl(QStringLiteral("qrc:/manual/") + item->data(Qt::UserRole).toString()),
                         QTextDocument::MarkdownResource);
    });
    turnTo(0);
}

int ManualDialog::chapters() const { return list_->count(); }

void ManualDialog::turnTo(int chapter) { list_->setCurrentRow(chapter); }

QString ManualDialog::shownText() const { return page_->toPlainText(); }

} // namespace rw
