#include "app/desktop/pages/page_tasks.h"

#include "app/desktop/pages/paper.h"
#include "app/desktop/pages/review_page.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/shared/bench_source.h"
#include "core/log/import.h"
#include "plotting/look.h"

#include <QApplication>
#include <QFileInfo>
#include <QTextStream>

namespace rw {

namespace {

int done(const QString& path) {
    QTextStream(stdout) << "written: " << path << '\n';
    return 0;
}

} // namespace

int printSheet(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    BenchContent content = benchFromFile(arguments.value);
    if (content.name.isEmpty()) content.name = QFileInfo(arguments.value).completeBaseName();
    content.name.replace(QLatin1Char('_'), QLatin1Char(' '));
    const Units units;
    makeRunSheet(content, units).writeTo(arguments.to, usualPaper(), true);
    return done(arguments.to);
}

int printReview(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    const Units units;
    std::vector<std::pair<Log, LogReview>> read;
    for (const QString& file : QStringList(arguments.value) + arguments.files) {
        Log log = importLogFile(file.toStdString());
        LogReview review = reviewLog(log);
        read.emplace_back(std::move(log), std::move(review));
    }
    std::vector<ReviewedLog> logs;
    for (const auto& [log, review] : read)
        logs.push_back({log, review});
    makeReviewPage(logs, units).writeTo(arguments.to, usualPaper(), false);
    return done(arguments.to);
}

} // namespace rw
