#include "app/desktop/review/review_task.h"

#include "app/desktop/pages/page_tasks.h"
#include "app/desktop/pages/paper.h"
#include "app/desktop/review/review_pictures.h"
#include "plotting/look.h"

#include <QApplication>

namespace rw {

int printReview(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    const Units units;
    std::vector<ReviewData> read;
    for (const QString& file : QStringList(arguments.value) + arguments.files) {
        LogSource source;
        source.path = file.toStdString();
        read.push_back(readReview(source, {}, {}, [](double) {}));
    }
    std::vector<ReviewedLog> logs;
    for (const ReviewData& data : read)
        logs.push_back({*data.log, *data.review, reviewPictures(data, units)});
    makeReviewPage(logs, units).writeTo(arguments.to, usualPaper(), false);
    return written(arguments.to);
}

} // namespace rw
