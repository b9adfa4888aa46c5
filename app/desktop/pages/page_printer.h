// Makes a page beside the interface thread and tells when it lies on the disk.
#pragma once

#include "app/desktop/desk.h"
#include "app/desktop/pages/page_document.h"

#include <QObject>

#include <functional>
#include <thread>

class QWidget;

namespace rw {

class PagePrinter : public QObject {
    Q_OBJECT
public:
    PagePrinter(const Desk& desk, QWidget* window, QObject* parent = nullptr);

    // Asks where to, then makes and writes. `make` runs in another thread: it takes what it needs by value.
    void print(const QString& title, const QString& suggestedName, bool onePage, std::function<PageDocument()> make);

signals:
    void said(const QString& sentence);
    void complained(const QString& title, const QString& sentence);

private:
    Desk desk_;
    QWidget* window_;
    std::jthread worker_;  // last: joins before the rest goes
};

} // namespace rw
