// What the Help menu opens: the manual, the keys, and who made this from what.
#pragma once

#include <QDialog>
#include <QListWidget>
#include <QTextBrowser>

class QMenuBar;

namespace rw {

class AboutDialog : public QDialog {
    Q_OBJECT
public:
    explicit AboutDialog(QWidget* parent = nullptr);
};

// Every shortcut of the window's actions, by menu.
class KeysDialog : public QDialog {
    Q_OBJECT
public:
    explicit KeysDialog(const QMenuBar& menus, QWidget* parent = nullptr);
};

// The manual: short chapters of resources/manual, one at a time. The text is ours and comes from the program itself.
class ManualDialog : public QDialog {
    Q_OBJECT
public:
    explicit ManualDialog(QWidget* parent = nullptr);

    [[nodiscard]] int chapters() const { return list_->count(); }
    void turnTo(int chapter) { list_->setCurrentRow(chapter); }
    [[nodiscard]] QString shownText() const { return page_->toPlainText(); }

private:
    QListWidget* list_;
    QTextBrowser* page_;
};

} // namespace rw
