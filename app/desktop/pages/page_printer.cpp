#include "app/desktop/pages/page_printer.h"

#include "app/desktop/jobs.h"
#include "app/desktop/pages/paper.h"

#include <QFileDialog>
#include <QMetaObject>

namespace rw {

PagePrinter::PagePrinter(const Desk& desk, QWidget* window, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , window_(window) {}

void PagePrinter::print(const QString& title, const QString& suggestedName, bool onePage,
                        std::function<PageDocument()> make) {
    const QString path = QFileDialog::getSaveFileName(window_, title, suggestedName, tr("PDF (*.pdf);;HTML (*.html)"));
    if (path.isEmpty()) return;
    const int job = desk_.jobs.begin(title, [] {});  // a second at most: it is let finish
    worker_ = std::jthread([this, job, title, path, onePage, make = std::move(make)] {
        QString complaint;
        try {
            make().writeTo(path, usualPaper(), onePage);
        } catch (const std::exception& error) {
            complaint = QString::fromUtf8(error.what());
        }
        QMetaObject::invokeMethod(this, [this, job, title, path, complaint] {
            desk_.jobs.end(job);
            if (complaint.isEmpty())
                emit said(tr("Written to %1.").arg(path));
            else
                emit complained(title, complaint);
        });
    });
}

} // namespace rw
