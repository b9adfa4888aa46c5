// Who made this from what, and what to mind: version, cautions, licences.
#pragma once

#include <QDialog>

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

} // namespace rw
