// What a palette cannot say: flat bars, thin rules, tabs with an underline, a visible focus.
#include "app/desktop/shell/theme.h"

#include <QString>

namespace rw {

namespace {

const char* const rules = R"(
QToolTip { color: @ink; background: @sheet; border: 1px solid @rule; padding: 6px 8px; }
QFrame#rule { background: @rule; border: none; }

QMenuBar { background: @sheet; padding: 2px 16px; }
QMenuBar::item { padding: 4px 8px; border-radius: 4px; background: transparent; color: @ink; }
QMenuBar::item:selected { background: @wash; }
QMenu { background: @sheet; border: 1px solid @rule; padding: 4px; }
QMenu::item { padding: 6px 24px 6px 12px; border-radius: 4px; color: @ink; }
QMenu::item:selected { background: @wash; }
QMenu::item:disabled { color: @soft; }
QMenu::separator { height: 1px; background: @rule; margin: 4px 8px; }
QMenu::indicator { width: 14px; height: 14px; left: 4px; }
QMenu::item:checkable, QMenu::item:has-icon { padding-left: 26px; }

QWidget#bench, QWidget#foot { background: @sheet; }
QToolButton#place { border: 2px solid transparent; border-radius: 6px; padding: 6px 12px; color: @soft; background: transparent; }
QToolButton#place:hover { color: @ink; }
QToolButton#place:checked { background: @wash; color: @ink; }
QToolButton#place:focus { border-color: @accent; }

QPushButton { background: @sheet; border: 1px solid @rule; border-radius: 6px; padding: 6px 14px; color: @ink; }
QPushButton:hover { border-color: @soft; }
QPushButton:pressed { background: @wash; }
QPushButton:focus { border-color: @accent; }
QPushButton:default { background: @accent; border-color: @accent; color: @onaccent; }
QPushButton:default:focus { border-color: @ink; }
QPushButton:disabled { color: @soft; background: @ground; border-color: @rule; }
QToolButton { border: 1px solid transparent; border-radius: 4px; padding: 3px 6px; color: @ink; background: transparent; }
QToolButton:hover { background: @wash; }
QToolButton:checked { background: @wash; }
QToolButton:focus { border-color: @accent; }
QToolButton:disabled { color: @soft; }
QToolButton::menu-indicator { image: none; }

QLineEdit, QPlainTextEdit, QTextEdit {
  background: @sheet; border: 1px solid @rule; border-radius: 4px; padding: 4px 6px; color: @ink;
  selection-background-color: @accent; selection-color: @onaccent; }
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus { border-color: @accent; }
QLineEdit:read-only { background: transparent; }
QComboBox QAbstractItemView { background: @sheet; border: 1px solid @rule; selection-background-color: @wash; selection-color: @ink; }

QTabBar { background: transparent; }
QTabBar::tab { background: transparent; color: @soft; padding: 6px 2px; margin-right: 10px; border-bottom: 2px solid transparent; }
QTabBar::tab:hover { color: @ink; }
QTabBar::tab:selected { color: @ink; border-bottom-color: @accent; }
QTabBar::tab:focus { color: @accent; }
QTabBar QToolButton { padding: 0; background: @ground; }
QTabWidget::pane { border: none; border-top: 1px solid @rule; }

QHeaderView { background: transparent; border: none; }
QHeaderView::section { background: transparent; color: @soft; border: none; border-bottom: 1px solid @rule; padding: 4px 5px; }
QHeaderView::up-arrow, QHeaderView::down-arrow { image: none; width: 0; height: 0; }
QTableView, QTreeView, QListView { background: transparent; border: 1px solid transparent; outline: none;
  selection-background-color: @wash; selection-color: @ink; alternate-background-color: transparent; }
QTableView:focus, QTreeView:focus, QListView:focus { border-color: @accent; }
QTableView::item, QTreeView::item, QListView::item { padding: 3px 8px; border: none; }
QTableView::item:selected, QTreeView::item:selected, QListView::item:selected { background: @wash; color: @ink; }

QScrollArea { background: transparent; border: none; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: @rule; border-radius: 3px; min-height: 32px; min-width: 32px; margin: 2px; }
QScrollBar::handle:hover { background: @soft; }
QScrollBar::add-line, QScrollBar::sub-line { height: 0; width: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }

QProgressBar { background: @rule; border: none; border-radius: 2px; max-height: 4px; min-height: 4px; }
QProgressBar::chunk { background: @accent; border-radius: 2px; }
QSplitter::handle { background: @rule; }
QSplitter#air::handle { background: transparent; }
QSplitter::handle:hover { background: @accent; }
)";

} // namespace

QString styleSheet(const Look& look) {
    QString sheet = QLatin1String(rules);
    const std::pair<const char*, QColor> names[] = {{"@onaccent", look.dark ? look.ground : look.sheet},
                                                    {"@ground", look.ground},
                                                    {"@sheet", look.sheet},
                                                    {"@accent", look.accent},
                                                    {"@wash", look.wash},
                                                    {"@rule", look.rule},
                                                    {"@soft", look.soft},
                                                    {"@ink", look.ink}};
    for (const auto& [name, colour] : names)
        sheet.replace(QLatin1String(name), colour.name());
    return sheet;
}

} // namespace rw
