#include "app/desktop/shell/about_dialog.h"

#include "app/desktop/shared/caution_texts.h"
#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/labels.h"
#include "storage/garage.h"

#include <QAction>
#include <QGridLayout>
#include <QMenu>
#include <QMenuBar>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

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

TextLabel* paragraph(const QString& text, Tone tone = Tone::Ink) {
    auto* label = new TextLabel(text, Type::Body, tone);
    label->setWordWrap(true);
    return label;
}

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
    column.addSpacing(gridStep);
    column.addWidget(dialogButtons(dialog, QDialogButtonBox::Close));
}

} // namespace

AboutDialog::AboutDialog(QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("About Runwright"));
    setFixedWidth(68 * gridStep);
    auto* column = closeColumn(*this);
    column->addWidget(new TextLabel(QStringLiteral("Runwright ") + QLatin1String(RUNWRIGHT_VERSION), Type::Figure));
    column->addWidget(
        paragraph(tr("A workbench for top-speed passes of radio-controlled electric cars: plan, run, review, learn."),
                  Tone::Soft));
    column->addSpacing(gridStep);
    column->addWidget(new TextLabel(tr("Before every pass"), Type::Heading));
    column->addWidget(cautionBox());
    column->addSpacing(gridStep);
    column->addWidget(new TextLabel(tr("Licences"), Type::Heading));
    column->addWidget(
        paragraph(tr("Runwright is free software under the GNU General Public License, version 3 or later. "
                     "It comes without any warranty. It stands on these libraries:")));
    column->addWidget(libraryList());
    column->addSpacing(gridStep);
    column->addWidget(new TextLabel(tr("This computer"), Type::Heading));
    column->addWidget(paragraph(
        tr("Qt %1. Garage files: %2").arg(QLatin1String(qVersion()), QString::fromStdString(journalChoice()))));
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

} // namespace rw
