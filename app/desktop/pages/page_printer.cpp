#include "app/desktop/pages/page_printer.h"

#include "app/desktop/pages/paper.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/settings.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QMetaObject>
#include <QPrintDialog>
#include <QPrinter>

namespace rw {

namespace {

const QString folderSetting = QStringLiteral("pages/folder");
constexpr double makingShare = 0.6; // of the whole work, for the progress that is shown

// A file name of any words: what folders and shells would take amiss is left out.
QString fileNameOf(const QString& words) {
    QString name;
    for (const QChar c : words)
        name += QStringLiteral("/\\:*?\"<>|").contains(c) || !c.isPrint() ? QLatin1Char(' ') : c;
    return name.simplified();
}

QString plainText(const QAction& action) { return action.text().remove(QLatin1Char('&')).remove(QStringLiteral("…")); }

} // namespace

PagePrinter::PagePrinter(const Desk& desk, QWidget* window, const PageWords& words, std::function<PageOrder()> order,
                         QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window)
    , order_(std::move(order))
    , print_(new QAction(words.print, this))
    , save_(new QAction(words.save, this)) {
    print_->setShortcut(QKeySequence::Print);
    save_->setShortcut(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_P));
    for (QAction* action : actions())
        action->setStatusTip(words.help);
    connect(print_, &QAction::triggered, this, &PagePrinter::print);
    connect(save_, &QAction::triggered, this, &PagePrinter::save);
}

void PagePrinter::setEnabled(bool enabled) {
    for (QAction* action : actions())
        action->setEnabled(enabled);
}

void PagePrinter::print() {
    const PageOrder order = order_();
    auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setPageSize(QPageSize(usualPaper()));
    printer->setDocName(fileNameOf(order.fileName));
    QPrintDialog dialog(printer.get(), window_);
    dialog.setWindowTitle(plainText(*print_));
    if (dialog.exec() != QDialog::Accepted) return;
    run(tr("Printing %1").arg(order.fileName), order, tr("Handed to the printer."),
        [printer, onePage = order.onePage](const PageDocument& page, const WorkOptions& work) {
            if (page.printOn(*printer, onePage, work) > 0) return true;
            printer->abort();
            return false;
        });
}

void PagePrinter::save() {
    const QString name = fileNameOf(order_().fileName) + QStringLiteral(".pdf");
    const QString folder = desk_.settings.text(folderSetting);
    QString filter;
    QString path = QFileDialog::getSaveFileName(window_, plainText(*save_),
                                                folder.isEmpty() ? name : folder + QLatin1Char('/') + name,
                                                tr("PDF (*.pdf);;HTML (*.html)"), &filter);
    if (path.isEmpty()) return;
    if (QFileInfo(path).suffix().isEmpty())
        path += filter.contains(QStringLiteral("html")) ? QStringLiteral(".html") : QStringLiteral(".pdf");
    desk_.settings.setText(folderSetting, QFileInfo(path).absolutePath());
    writeTo(path);
}

void PagePrinter::writeTo(const QString& path) {
    const PageOrder order = order_();
    run(tr("Writing %1").arg(QFileInfo(path).fileName()), order, tr("Written to %1.").arg(path),
        [path, onePage = order.onePage](const PageDocument& page, const WorkOptions& work) {
            return page.writeTo(path, usualPaper(), onePage, work);
        });
}

void PagePrinter::run(const QString& title, const PageOrder& order, const QString& done, Put put) {
    if (busy_) return emit complained(title, tr("The page before is not ready yet: wait for it, or stop it."));
    busy_ = true;
    std::stop_source source; // its own: a window that closes lets a page in work be finished
    job_ = desk_.jobs.begin(title, [source]() mutable { source.request_stop(); });
    const auto told = [this, job = job_](double share) {
        QMetaObject::invokeMethod(this, [this, job, share] { desk_.jobs.progress(job, share); });
    };
    worker_ = std::jthread([this, title, order, done, put = std::move(put), stop = source.get_token(), told] {
        QString sentence = tr("Stopped: nothing was written."), complaint;
        try {
            const PageDocument page = order.make({stop, [told](double share) { told(makingShare * share); }});
            const auto putting = [told](double share) { told(makingShare + (1.0 - makingShare) * share); };
            if (!stop.stop_requested() && put(page, {stop, putting})) sentence = done;
        } catch (const std::exception& error) {
            complaint = QString::fromUtf8(error.what());
        }
        QMetaObject::invokeMethod(this, [this, title, sentence, complaint] { finish(title, sentence, complaint); });
    });
}

void PagePrinter::finish(const QString& title, const QString& sentence, const QString& complaint) {
    busy_ = false;
    desk_.jobs.end(job_);
    if (complaint.isEmpty())
        emit said(sentence);
    else
        emit complained(title, complaint);
}

} // namespace rw
