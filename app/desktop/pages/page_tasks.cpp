#include "app/desktop/pages/page_tasks.h"

#include "app/desktop/pages/paper.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/shared/bench_source.h"
#include "plotting/look.h"

#include <QApplication>
#include <QFileInfo>
#include <QTextStream>

namespace rw {

int written(const QString& path) {
    QTextStream(stdout) << "written: " << path << '\n';
    return 0;
}

int printSheet(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    BenchContent content = benchFromFile(arguments.value);
    if (content.name.isEmpty()) content.name = QFileInfo(arguments.value).completeBaseName();
    content.name.replace(QLatin1Char('_'), QLatin1Char(' '));
    const Units units;
    makeRunSheet(content, units).writeTo(arguments.to, usualPaper(), true);
    return written(arguments.to);
}

} // namespace rw
