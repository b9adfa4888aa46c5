// What can be done in Review beside looking: the actions of its menus, made once, enabled when they make sense.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QAction>
#include <QDialog>
#include <QList>
#include <QPointer>

namespace rw {

class LogKeeper;
class PagePrinter;

class ReviewActions : public QObject {
    Q_OBJECT
public:
    ReviewActions(ReviewDesk& review, QWidget* window);

    [[nodiscard]] const QList<QAction*>& file() const { return file_; }
    [[nodiscard]] const QList<QAction*>& edit() const { return edit_; }
    [[nodiscard]] const QList<QAction*>& own() const { return own_; }
    void chooseFiles();
    void showImport();
    [[nodiscard]] QAction* noteAction() const { return note_; }
    void askForMap(const std::shared_ptr<const RefusedLog>& refused);
    [[nodiscard]] LogKeeper& keeper() { return *keeper_; }
    [[nodiscard]] PagePrinter& printer() { return *printer_; }

signals:
    void filesChosen(const QStringList& paths);

private:
    QAction* add(QList<QAction*>& menu, const QString& text, const QString& help, const std::function<void()>& action);
    void makeFile();
    void makeEdit();
    void makeOwn();
    void makePrinting();
    void enable();
    void chooseTrack();
    void keepLog();
    void openFromGarage();
    void askJudging();
    void askNote(); // of the chosen pass
    // Corrections at the cursor; the mark and the cursor bound a pass.
    void beginSessionAtCursor();
    void joinSession();
    void addPass();
    void removePass();

    ReviewDesk& review_;
    QWidget* window_;
    LogKeeper* keeper_;
    PagePrinter* printer_ = nullptr;
    QList<QAction*> file_, edit_, own_;
    QAction *againstBench_ = nullptr, *newSession_ = nullptr, *join_ = nullptr, *newPass_ = nullptr,
            *dropPass_ = nullptr, *keep_ = nullptr, *fromGarage_ = nullptr, *note_ = nullptr;
    QList<QAction*> needLog_;
    QPointer<QDialog> mapping_; // asks what the columns of a log are
};

} // namespace rw
