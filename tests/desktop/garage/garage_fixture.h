// A window over a garage that holds one of everything, and hands for its dialogs.
#pragma once

#include "app/desktop/garage/garage_actions.h"
#include "app/desktop/garage/garage_files.h"
#include "app/desktop/garage/garage_tree.h"
#include "app/desktop/garage/garage_workspace.h"
#include "app/desktop/garage/part_page.h"
#include "app/desktop/shared/figure_table.h"
#include "tests/desktop/window_fixture.h"
#include "tests/storage/support.h"

#include <QDialog>
#include <QDialogButtonBox>
#include <QDir>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QPushButton>
#include <QRegularExpression>
#include <QTimer>
#include <QTreeWidget>

#include <utility>

namespace rw::test {

// Does `act` in the next dialog that opens, as soon as it is there.
template<class Dialog>
void inDialog(std::function<void(Dialog&)> act) {
    auto* look = new QTimer(qApp);
    QObject::connect(look, &QTimer::timeout, qApp,
                     [look, act = std::move(act), deadline = QDeadlineTimer(patience_ms)] {
                         auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
                         if (!dialog && !deadline.hasExpired()) return;
                         look->stop();
                         look->deleteLater();
                         ASSERT_TRUE(dialog) << "the dialog did not open";
                         act(*dialog);
                     });
    look->start(1);
}

inline QAction* menuAction(Shell& window, const QString& text) {
    for (QAction* top : window.menuBar()->actions())
        for (QAction* entry : top->menu()->actions())
            if (entry->text().remove(u'&') == text) return entry;
    ADD_FAILURE() << "no entry " << text.toStdString();
    return nullptr;
}

// A garage workspace in a window, found by what stands in it.
struct GarageView {
    explicit GarageView(Program& of)
        : program(of) {}

    [[nodiscard]] Shell& window() const { return program.window(); }
    [[nodiscard]] GarageWorkspace& workspace() const {
        return *dynamic_cast<GarageWorkspace*>(window().workspace(QStringLiteral("garage")));
    }
    template<class Part>
    [[nodiscard]] Part& part() const {
        return *workspace().widget()->findChild<Part*>();
    }
    template<class Part>
    [[nodiscard]] Part& own() const {
        return *workspace().findChild<Part*>();
    }
    [[nodiscard]] Garage& garage() const { return program.garage.garage(); }
    [[nodiscard]] QTreeWidget& tree() const { return *part<GarageTree>().template findChild<QTreeWidget*>(); }
    [[nodiscard]] FigureTable& table(const char* name) const {
        for (FigureTable* found : workspace().widget()->findChildren<FigureTable*>())
            if (found->accessibleName() == QLatin1String(name)) return *found;
        throw std::logic_error(name);
    }

    // Rows of the tree under a heading, as they are read.
    [[nodiscard]] QStringList under(const QString& heading) const {
        QStringList names;
        for (int i = 0; i < tree().topLevelItemCount(); ++i) {
            const QTreeWidgetItem* head = tree().topLevelItem(i);
            if (head->text(0) != heading) continue;
            EXPECT_EQ(head->text(1).toInt(), head->childCount());
            for (int row = 0; row < head->childCount(); ++row)
                names << head->child(row)->text(0);
        }
        return names;
    }
    void choose(const QString& name) const {
        const auto found = tree().findItems(name, Qt::MatchExactly | Qt::MatchRecursive);
        ASSERT_FALSE(found.isEmpty()) << name.toStdString();
        tree().setCurrentItem(found.front());
    }
    // Cells of a table's row that begins with `first`.
    [[nodiscard]] static QStringList row(const FigureTable& table, const QString& first) {
        for (int i = 0; i < table.model()->rowCount(); ++i) {
            if (table.model()->index(i, 0).data().toString() != first) continue;
            QStringList cells;
            for (int column = 0; column < table.model()->columnCount(); ++column)
                cells << table.model()->index(i, column).data().toString();
            return cells;
        }
        return {};
    }
    // What stands on the page.
    [[nodiscard]] QString pageText() const {
        QStringList texts;
        for (const QLabel* label : part<PartPage>().template findChildren<QLabel*>())
            if (label->isVisible()) texts << label->text();
        return texts.join(u'\n');
    }
    void awaitWork() const {
        ASSERT_TRUE(await([&] { return program.jobs.running().empty(); }));
    }

    Program& program;
};

class GarageTest : public WindowTest {
protected:
    GarageTest()
        : view(program)
        , path(folder.filePath(QStringLiteral("own.runwright"))) {}

    void openFilled() {
        Garage::create(path.toStdString(), {}, [this](Garage& garage) { filled = fill(garage); });
        ASSERT_TRUE(program.garage.open(path));
        open();
        program.window().showWorkspace(QStringLiteral("garage"));
    }
    [[nodiscard]] Garage& garage() { return program.garage.garage(); }
    [[nodiscard]] QString said() { return said_.isEmpty() ? QString() : said_.back(); }
    void listen() {
        QObject::connect(&program.voice, &Voice::said, &view.workspace(), [this](const QString& s) { said_ << s; });
    }
    // Files of the test's folder, to see that nothing was left behind.
    [[nodiscard]] QStringList files() const {
        return QDir(folder.path())
            .entryList(QDir::Files | QDir::Hidden, QDir::Name)
            .filter(QRegularExpression(QStringLiteral("^(?!settings)")));
    }

    GarageView view;
    QString path;
    Filled filled;
    QStringList said_;
};

} // namespace rw::test
