#include "app/desktop/pages/page_printer.h"

#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"

#include <QFileDialog>
#include <QFileInfo>
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
    , runner_(desk.jobs, JobRunner::AtClose::Finish) {
    const auto keys = [&](const QKeySequence& own) { return words.keys ? own : QKeySequence(); };
    print_ = action(
        this, words.print, words.help, [this] { print(); }, keys(QKeySequence::Print));
    save_ = action(
        this, words.save, words.help, [this] { save(); }, keys(Qt::CTRL | Qt::SHIFT | Qt::Key_P));
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
    const auto work = [this, order, done, put = std::move(put)](const WorkOptions& options) -> JobRunner::Done {
        const auto told = options.progress;
        const PageDocument page =
            order.make({.stop = options.stop, .progress = [told](double share) { told(makingShare * share); }});
        const auto putting = [told](double share) { told(makingShare + (1.0 - makingShare) * share); };
        if (options.stop.stop_requested() || !put(page, {.stop = options.stop, .progress = putting})) return {};
        return [this, done] { emit desk_.voice.said(done); };
    };
    const JobRunner::Ends ends{[this, title](const QString& sentence) { emit desk_.voice.complained(title, sentence); },
                               [this] { emit desk_.voice.said(tr("Stopped: nothing was written.")); }};
    if (!runner_.run(title, work, ends))
        emit desk_.voice.complained(title, tr("The page before is not ready yet: wait for it, or stop it."));
}

} // namespace rw
