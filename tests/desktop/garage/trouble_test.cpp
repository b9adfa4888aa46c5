// What goes wrong in real life: files that go away, that others hold, that may not be written; two windows; closing
// while something runs; rubbish dropped on the window.
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/shared/bench.h"
#include "tests/desktop/garage/garage_fixture.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <QDialogButtonBox>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFile>
#include <QImage>
#include <QLineEdit>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QUrl>

#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>

using namespace rw;
using rw::test::await;
using rw::test::GarageTest;
using rw::test::GarageView;
using rw::test::inDialog;
using rw::test::menuAction;

namespace {

const QString heron = QStringLiteral("Heron");

// Another program that commits for a long time.
class Holder {
public:
    explicit Holder(const QString& path)
        : database_(path.toStdString(), SQLite::OPEN_READWRITE) {
        database_.exec("BEGIN EXCLUSIVE");
    }
    void letGo() { database_.exec("ROLLBACK"); }

private:
    SQLite::Database database_;
};

// The tests of a package are built as root, whom no permission stops.
class AsNobody {
public:
    AsNobody() { root_ = ::geteuid() == 0 && ::seteuid(65534) == 0; }
    ~AsNobody() {
        if (root_ && ::seteuid(0) != 0) std::abort(); // nothing later could be trusted
    }
    AsNobody(const AsNobody&) = delete;
    AsNobody& operator=(const AsNobody&) = delete;

private:
    bool root_ = false;
};

void changeMass(Garage& garage, double mass) {
    Part part = garage.part(garage.list(ItemKind::Vehicle).front().id);
    part.values["vehicle.mass_kg"].number = mass;
    garage.update(part);
}

void drop(Shell& window, const QList<QUrl>& urls) {
    QMimeData data;
    data.setUrls(urls);
    QDragEnterEvent enter(QPoint(200, 200), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&window, &enter);
    QDropEvent event(QPointF(200, 200), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&window, &event);
}

QString valueShown(const GarageView& view, const char* what) {
    return GarageView::row(view.table("Values"), QLatin1String(what)).value(2);
}

void saveValue(ValueDialog& dialog, const QString& text) {
    dialog.findChild<QLineEdit*>()->setText(text);
    dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
}

} // namespace

TEST_F(GarageTest, aFileThatGoesAwayIsSaidAndWhatIsShownCanBeKept) {
    openFilled();
    const std::string full = rw::test::contentOf(garage());
    ASSERT_TRUE(QFile::rename(path, folder.filePath(QStringLiteral("moved"))));
    ASSERT_TRUE(await([&] { return view.window().notice().startsWith(QStringLiteral("The garage is gone")); }));
    EXPECT_FALSE(menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->isEnabled());
    EXPECT_FALSE(menuAction(view.window(), QStringLiteral("Back up now"))->isEnabled());
    view.choose(QStringLiteral("6S no. 2")); // reading goes on
    EXPECT_TRUE(view.pageText().startsWith(QStringLiteral("6S no. 2")));
    const QString copy = folder.filePath(QStringLiteral("copy.runwright"));
    ASSERT_TRUE(menuAction(view.window(), QStringLiteral("Keep a copy…"))->isEnabled());
    view.own<GarageFiles>().keepCopy(copy);
    Garage kept = Garage::open(copy.toStdString());
    EXPECT_EQ(rw::test::contentOf(kept), full);
    ASSERT_TRUE(QFile::rename(folder.filePath(QStringLiteral("moved")), path));
    ASSERT_TRUE(await([&] { return view.window().notice().startsWith(QStringLiteral("The garage is back")); }));
    EXPECT_TRUE(menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->isEnabled());
}

TEST_F(GarageTest, aLockedGarageIsSaidAndComesBack) {
    openFilled();
    view.choose(heron);
    Holder other(path);
    view.choose(QStringLiteral("6S no. 2"));
    EXPECT_TRUE(view.window().notice().contains(QStringLiteral("another window or program is using the garage")))
        << view.window().notice().toStdString();
    other.letGo();
    EXPECT_TRUE(await([&] { return view.pageText().startsWith(QStringLiteral("6S no. 2")); })); // asked again by itself
}

TEST_F(GarageTest, whatWasTypedWhileTheGarageWasLockedIsNotLost) {
    openFilled();
    view.choose(heron);
    const Id vehicle = *view.part<PartPage>().shown();
    std::optional<Holder> other;
    inDialog<ValueDialog>([&](ValueDialog& dialog) {
        other.emplace(path);
        saveValue(dialog, QStringLiteral("4.9"));
        inDialog<ValueDialog>([&](ValueDialog& again) {
            EXPECT_EQ(again.findChild<QLineEdit*>()->text(), QStringLiteral("4.9"));
            other->letGo();
            again.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
        });
    });
    view.own<GarageActions>().editValue("vehicle.mass_kg");
    EXPECT_EQ(garage().part(vehicle).values.at("vehicle.mass_kg").number, 4.9);
    EXPECT_EQ(valueShown(view, "mass"), QStringLiteral("4.9\u00a0kg"));
}

TEST_F(GarageTest, aReadOnlyGarageIsSaidAndCanBeReadAndCopied) {
    Garage::create(path.toStdString(), {}, [this](Garage& fresh) { filled = rw::test::fill(fresh); });
    ::chmod(folder.path().toUtf8().constData(), 0755);
    ::chmod(path.toUtf8().constData(), 0444);
    Shell& window = open();
    {
        const AsNobody nobody;
        ASSERT_TRUE(program.garage.open(path));
    }
    window.showWorkspace(QStringLiteral("garage"));
    EXPECT_TRUE(window.notice().startsWith(QStringLiteral("Open for reading only"))) << window.notice().toStdString();
    EXPECT_EQ(view.under(QStringLiteral("Vehicles")), QStringList{heron});
    for (const char* text : {"Add a part or vehicle…", "Duplicate…", "Import a document…", "Restore a backup…"})
        EXPECT_FALSE(menuAction(window, QString::fromUtf8(text))->isEnabled()) << text;
    EXPECT_TRUE(menuAction(window, QStringLiteral("Keep a copy…"))->isEnabled());
    EXPECT_TRUE(menuAction(window, QStringLiteral("Export what is chosen…"))->isEnabled());
}

TEST_F(GarageTest, twoWindowsSeeEachOther) {
    openFilled();
    Program second(folder.filePath(QStringLiteral("settings2.ini")));
    second.units.set(&UnitChoice::speed, SpeedUnit::Mps);
    ASSERT_TRUE(second.garage.open(path));
    Shell& other = second.window();
    other.begin();
    other.show();
    other.showWorkspace(QStringLiteral("garage"));
    const GarageView there(second);
    there.choose(heron);
    view.choose(heron);
    ASSERT_TRUE(program.garage.attempt({}, [](Garage& g) { changeMass(g, 5.25); }));
    EXPECT_EQ(valueShown(view, "mass"), QStringLiteral("5.25\u00a0kg"));
    second.garage.poll(); // as when that window is looked at again
    EXPECT_EQ(valueShown(there, "mass"), QStringLiteral("5.25\u00a0kg"));
    ASSERT_TRUE(second.garage.attempt({}, [](Garage& g) { changeMass(g, 5.5); }));
    EXPECT_TRUE(await([&] { return valueShown(view, "mass") == QStringLiteral("5.5\u00a0kg"); })); // by itself
}

TEST_F(GarageTest, aConflictIsToldInOneSentenceAndThePersonDecides) {
    openFilled();
    view.choose(heron);
    Garage other = Garage::open(path.toStdString());
    QString told;
    inDialog<ValueDialog>([&](ValueDialog& dialog) {
        changeMass(other, 6.0);
        saveValue(dialog, QStringLiteral("7"));
        inDialog<ValueDialog>([&](ValueDialog& again) {
            for (const QLabel* label : again.findChildren<QLabel*>())
                if (label->isVisible() && label->text().contains(QStringLiteral("Another window")))
                    told = label->text();
            EXPECT_EQ(other.part(other.list(ItemKind::Vehicle).front().id).values.at("vehicle.mass_kg").number, 6.0);
            again.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
        });
    });
    view.own<GarageActions>().editValue("vehicle.mass_kg");
    EXPECT_EQ(told.count(u'.'), 2) << told.toStdString();
    EXPECT_TRUE(told.contains(QStringLiteral("6\u00a0kg"))) << told.toStdString();
    EXPECT_EQ(valueShown(view, "mass"), QStringLiteral("7\u00a0kg"));
}

TEST_F(GarageTest, anotherValueThatChangedMeanwhileIsKept) {
    openFilled();
    view.choose(heron);
    Garage other = Garage::open(path.toStdString());
    inDialog<ValueDialog>([&](ValueDialog& dialog) {
        changeMass(other, 6.0);
        saveValue(dialog, QStringLiteral("0.03"));
    });
    view.own<GarageActions>().editValue("vehicle.drag_area_m2");
    const Values values = garage().part(*view.part<PartPage>().shown()).values;
    EXPECT_EQ(values.at("vehicle.mass_kg").number, 6.0);
    EXPECT_EQ(view.window().notice(), QString());
}

TEST_F(GarageTest, workIsStoppedAndLeavesNothingBehind) {
    openFilled();
    listen();
    const QStringList before = files();
    Holder other(path); // the work waits for it
    view.own<GarageFiles>().keepCopy(folder.filePath(QStringLiteral("copy.runwright")));
    ASSERT_EQ(program.jobs.running().size(), 1U);
    EXPECT_FALSE(menuAction(view.window(), QStringLiteral("Back up now"))->isEnabled());
    program.jobs.stop(program.jobs.running().front().id);
    view.awaitWork();
    EXPECT_TRUE(said().contains(QStringLiteral("stopped"))) << said().toStdString();
    EXPECT_EQ(view.window().notice(), QString());
    other.letGo();
    EXPECT_EQ(files(), before);
    EXPECT_TRUE(menuAction(view.window(), QStringLiteral("Back up now"))->isEnabled());
}

TEST_F(GarageTest, closingDuringWorkStopsItAndAsksNothing) {
    openFilled();
    const QStringList before = files();
    Holder other(path);
    view.own<GarageFiles>().keepCopy(folder.filePath(QStringLiteral("copy.runwright")));
    ASSERT_EQ(program.jobs.running().size(), 1U);
    EXPECT_TRUE(view.window().close());
    program.shell.reset();
    other.letGo();
    EXPECT_EQ(files(), before);
}

TEST_F(GarageTest, closingAsksOnlyWhereSomethingIsNotKept) {
    Shell& window = open();
    window.openFiles({QStringLiteral(":/samples/example.json")});
    auto& session = dynamic_cast<PlanWorkspace*>(window.workspace(QStringLiteral("plan")))->session();
    ASSERT_TRUE(await([&] { return !session.empty() && session.current(); }));
    PlanInput next = session.input();
    next.gears.pinion_teeth += 1;
    session.edit(QStringLiteral("pinion"), {}, next);
    inDialog<QMessageBox>([](QMessageBox& box) { box.button(QMessageBox::Cancel)->click(); });
    EXPECT_FALSE(window.close());
    EXPECT_EQ(session.input(), next);
    session.putBackAll();
    EXPECT_TRUE(window.close());
}

TEST_F(GarageTest, rubbishDroppedIsRefusedInWordsAndChangesNothing) {
    openFilled();
    const std::string content = rw::test::contentOf(garage());
    const auto made = [this](const char* name, const QByteArray& bytes) {
        QFile file(folder.filePath(QLatin1String(name)));
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bytes);
        return QUrl::fromLocalFile(file.fileName());
    };
    QByteArray noise(4096, '\0');
    for (qsizetype i = 0; i < noise.size(); ++i)
        noise[i] = static_cast<char>((i * 197 + 31) % 256);
    const QString image = folder.filePath(QStringLiteral("picture.png"));
    ASSERT_TRUE(QImage(16, 16, QImage::Format_RGB32).save(image));
    const QUrl rubbish[] = {made("noise.bin", noise), QUrl::fromLocalFile(folder.path()), QUrl::fromLocalFile(image),
                            made("empty.csv", {}), made("half.runwright", QByteArray("SQLite format 3\0half", 20))};
    for (const QUrl& url : rubbish) {
        drop(view.window(), {url});
        ASSERT_TRUE(await([&] { return program.jobs.running().empty() && !view.window().notice().isEmpty(); }))
            << url.toString().toStdString();
        EXPECT_TRUE(view.window().notice().contains(url.fileName())) << view.window().notice().toStdString();
        EXPECT_EQ(program.garage.path(), path);
        QTest::keyClick(view.window().findChild<QWidget*>(QStringLiteral("notice")), Qt::Key_Escape);
    }
    drop(view.window(), {QUrl(QStringLiteral("https://example.invalid/log.csv"))}); // nothing is fetched
    EXPECT_TRUE(view.window().notice().contains(QStringLiteral("this computer")))
        << view.window().notice().toStdString();
    EXPECT_EQ(rw::test::contentOf(garage()), content);
}
