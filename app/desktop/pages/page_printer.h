// Prints a page and writes it as PDF or HTML beside the interface thread, as a job that shows how far it is and can be
// stopped. Owns the two actions of the File menu; a workspace's main page has the keys, the same everywhere.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"

#include <QAction>
#include <QList>
#include <QObject>
#include <QPointer>
#include <QWidget>

#include <functional>

namespace rw {

// What is on show, as a page.
struct PageOrder {
    QString fileName; // proposed, without suffix
    bool onePage = false;
    std::function<PageDocument(const WorkOptions&)> make; // runs in another thread: takes what it needs by value
};

struct PageWords {
    QString print, save, help; // of the actions
    bool keys = true;          // one page of a workspace has them: two with the same would make both dead
};

class PagePrinter : public QObject {
    Q_OBJECT
public:
    // order is asked for when a person prints; desk and window outlive this.
    PagePrinter(const Desk& desk, QWidget* window, const PageWords& words, std::function<PageOrder()> order,
                QObject* parent = nullptr);

    [[nodiscard]] QList<QAction*> actions() const { return {print_, save_}; }
    void setEnabled(bool enabled);
    [[nodiscard]] bool busy() const { return runner_.busy(); }

    void print();                      // asks for the printer
    void save();                       // asks where to
    void writeTo(const QString& path); // by suffix: pdf, html

private:
    // Puts the page somewhere; false where stopped. Runs in the other thread.
    using Put = std::function<bool(const PageDocument&, const WorkOptions&)>;
    void run(const QString& title, const PageOrder& order, const QString& done, Put put);

    Desk desk_;
    QPointer<QWidget> window_;
    std::function<PageOrder()> order_;
    QAction *print_, *save_;
    JobRunner runner_; // last: a page in work is finished before the rest goes
};

} // namespace rw
