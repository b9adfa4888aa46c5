#include "app/desktop/review/log_file_kind.h"

#include <QByteArray>
#include <QFile>
#include <QFileInfo>

namespace rw {

namespace {

bool isUtf16(const QByteArray& head) { return head.startsWith("\xFF\xFE") || head.startsWith("\xFE\xFF"); }

} // namespace

LogFileKind logFileKind(const QString& path) {
    QFile file(path);
    if (!QFileInfo(path).isFile() || !file.open(QIODevice::ReadOnly)) return LogFileKind::Other;
    const QByteArray head = file.read(4096);
    if (head.contains("<gpx") || head.startsWith("$GP") || head.startsWith("$GN")) return LogFileKind::Track;
    if (head.startsWith("SQLite format 3") || head.startsWith("%PDF")) return LogFileKind::Other;
    if (head.trimmed().startsWith('{') && head.contains("\"runwright\"")) return LogFileKind::Other;
    const QString suffix = QFileInfo(path).suffix().toLower();
    const bool named = suffix == QLatin1String("csv") || suffix == QLatin1String("tsv") ||
                       suffix == QLatin1String("log") || suffix == QLatin1String("txt");
    if (named) return LogFileKind::Log; // whether it can be read is said by the importer, in words
    if (head.contains('\0') && !isUtf16(head)) return LogFileKind::Other;
    return head.contains('\n') ? LogFileKind::PerhapsLog : LogFileKind::Other;
}

} // namespace rw
