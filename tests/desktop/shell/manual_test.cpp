// The manual in the window: every chapter opens, under its own title, with every picture that it names.
#include "app/desktop/shell/help_dialogs.h"

#include <QDir>
#include <QListWidget>
#include <QRegularExpression>

#include <gtest/gtest.h>

using namespace rw;

namespace {

QStringList chapterFiles() { return QDir(QStringLiteral(":/manual")).entryList({QStringLiteral("*.md")}); }

QString textOf(const QString& file) {
    QFile chapter(QStringLiteral(":/manual/") + file);
    EXPECT_TRUE(chapter.open(QIODevice::ReadOnly)) << file.toStdString();
    return QString::fromUtf8(chapter.readAll());
}

} // namespace

TEST(Manual, ShowsEveryChapterUnderItsTitle) {
    ManualDialog manual;
    const QStringList files = chapterFiles();
    ASSERT_EQ(manual.chapters(), files.size());
    ASSERT_GE(files.size(), 8);
    for (int i = 0; i < files.size(); ++i) {
        manual.turnTo(i);
        const QString title = manual.findChild<QListWidget*>()->item(i)->text();
        EXPECT_TRUE(textOf(files[i]).startsWith(QStringLiteral("# ") + title + u'\n')) << title.toStdString();
        EXPECT_TRUE(manual.shownText().startsWith(title)) << manual.shownText().left(80).toStdString();
        EXPECT_FALSE(manual.shownText().contains(QStringLiteral("**"))) << "Markdown shown as it is written";
    }
}

TEST(Manual, EveryPictureThatItNamesIsThere) {
    static const QRegularExpression picture(QStringLiteral(R"(\]\(\.\./(pictures/[a-z-]+\.png)\))"));
    int pictures = 0;
    for (const QString& file : chapterFiles())
        for (auto found = picture.globalMatch(textOf(file)); found.hasNext(); ++pictures) {
            const QString name = found.next().captured(1);
            EXPECT_TRUE(QFile::exists(QStringLiteral(":/") + name)) << file.toStdString() << ": " << name.toStdString();
        }
    EXPECT_GE(pictures, 3);
}
