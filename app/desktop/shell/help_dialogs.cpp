#include "app/desktop/shell/help_dialogs.h"

#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"
#include "storage/garage.h"

#include <QAction>
#include <QDir>
#include <QFile>
#include <QGridLayout>
#include <QMenu>
#include <QMenuBar>
#include <QUrl>

#include <algorithm>
#include <array>

namespace rw {

namespace {

struct Library {
    const char* name;
    const char* licence;
};

constexpr std::array libraries{Library{"Qt", "LGPL-3.0"},
                               Library{"QCustomPlot", "GPL-3.0-or-later"},
                               Library{"Eigen", "MPL-2.0"},
                               Library{"Boost", "BSL-1.0"},
                               Library{"SQLite", "public domain"},
                               Library{"SQLiteCpp", "MIT"},
                               Library{"Zstandard", "BSD-3-Clause"},
                               Library{"GeographicLib", "MIT"},
                               Library{"nlohmann-json", "MIT"},
                               Library{"fast_float", "MIT"},
                               Library{"pugixml", "MIT"}};

QWidget* cautionBox() {
    auto* box = new QWidget;
    auto* grid = new QGridLayout(box);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->setHorizontalSpacing(gridStep);
    grid->setVerticalSpacing(4);
    grid->setColumnStretch(1, 1);
    int row = 0;
    for (const QString& caution : cautionList()) {
        grid->addWidget(new TextLabel(QStringLiteral("–"), Type::Body, Tone::Soft), row, 0, Qt::AlignTop);
        grid->addWidget(paragraph(caution), row++, 1);
    }
    return box;
}

QWidget* libraryList() {
    auto* box = new QWidget;
    auto* grid = new QGridLayout(box);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->setHorizontalSpacing(2 * gridStep);
    grid->setVerticalSpacing(2);
    constexpr int rows = (static_cast<int>(libraries.size()) + 1) / 2;
    for (int i = 0; i < static_cast<int>(libraries.size()); ++i) {
        const int column = 2 * (i / rows);
        grid->addWidget(new TextLabel(QLatin1String(libraries[static_cast<std::size_t>(i)].name)), i % rows, column);
        grid->addWidget(
            new TextLabel(QLatin1String(libraries[static_cast<std::size_t>(i)].licence), Type::Body, Tone::Soft),
            i % rows, column + 1);
    }
    grid->setColumnStretch(3, 1);
    return box;
}

// Words stand closer in a dialog that only tells.
QVBoxLayout* closeColumn(QDialog& dialog) {
    QVBoxLayout* column = dialogColumn(dialog);
    column->setSpacing(gridStep);
    return column;
}

void addClose(QDialog& dialog, QVBoxLayout& column) {
    lay(column, {gap(gridStep), dialogButtons(dialog, QDialogButtonBox::Close)});
}

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

AboutDialog::AboutDialog(QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("About Runwright"));
    setFixedWidth(68 * gridStep);
    auto* column = closeColumn(*this);
    lay(*column,
        {new TextLabel(QStringLiteral("Runwright ") + QLatin1String(RUNWRIGHT_VERSION), Type::Figure),
         paragraph(tr("A workbench for top-speed passes of radio-controlled electric cars: plan, run, review, learn."),
                   Type::Body, Tone::Soft),
         gap(gridStep), new TextLabel(tr("Before every pass"), Type::Heading), cautionBox(), gap(gridStep),
         new TextLabel(tr("Licences"), Type::Heading),
         paragraph(tr("Runwright is free software under the GNU General Public License, version 3 or later. "
                      "It comes without any warranty. It stands on these libraries:")),
         libraryList(), gap(gridStep), new TextLabel(tr("This computer"), Type::Heading),
         paragraph(
             tr("Qt %1. Garage files: %2").arg(QLatin1String(qVersion()), QString::fromStdString(journalChoice())))});
    addClose(*this, *column);
    setFixedHeight(
        column->totalHeightForWidth(width())); // wrapped lines ask for their height only when they know their width
}

KeysDialog::KeysDialog(const QMenuBar& menus, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Keys"));
    resize(64 * gridStep, 66 * gridStep);
    auto* column = closeColumn(*this);
    auto* list = new QWidget;
    auto* grid = new QGridLayout(list);
    grid->setContentsMargins(0, 0, 2 * gridStep, 0);
    grid->setHorizontalSpacing(3 * gridStep);
    grid->setColumnStretch(0, 1);
    int row = 0;
    const auto line = [&](const QString& text, const QString& keys) {
        grid->addWidget(new TextLabel(text), row, 0);
        grid->addWidget(new TextLabel(keys, Type::Body, Tone::Soft), row++, 1);
    };
    for (const QAction* top : menus.actions()) {
        const QList<QAction*> entries = top->menu() ? top->menu()->actions() : QList<QAction*>();
        const auto hasKeys = [](const QAction* entry) { return !entry->shortcut().isEmpty(); };
        if (std::none_of(entries.begin(), entries.end(), hasKeys)) continue;
        grid->addWidget(new TextLabel(top->text().remove(u'&'), Type::Heading), row++, 0);
        for (const QAction* action : entries)
            if (hasKeys(action))
                line(action->text().remove(u'&'), action->shortcut().toString(QKeySequence::NativeText));
    }
    grid->addWidget(new TextLabel(tr("Charts"), Type::Heading), row++, 0);
    line(tr("Move the cursor"), tr("Left, Right"));
    line(tr("Zoom in, zoom out, show all"), tr("+, −, Home"));
    line(tr("Pan"), tr("Shift+Left, Shift+Right"));
    line(tr("Drop the cursor"), tr("Esc"));
    grid->addWidget(new TextLabel(tr("Fields"), Type::Heading), row++, 0);
    line(tr("One step up or down"), tr("Up, Down"));
    line(tr("Put the kept value back"), tr("Ctrl+Backspace"));
    grid->setRowStretch(row, 1);
    auto* area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setWidget(list);
    column->addWidget(area, 1);
    addClose(*this, *column);
}

ManualDialog::ManualDialog(QWidget* parent)
    : QDialog(parent)
    , list_(named(new QListWidget, tr("Chapters")))
    , page_(named(new Page, tr("Chapter"))) {
    setObjectName(QStringLiteral("manual"));
    setWindowTitle(tr("Manual"));
    resize(120 * gridStep, 84 * gridStep);
    lay(*new QHBoxLayout(this), {list_, grow(page_)});
    list_->setFixedWidth(28 * gridStep);
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

} // namespace rw
