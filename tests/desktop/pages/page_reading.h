// What a page that was written holds: its sheets, their size, and the words that a person reads.
#pragma once

#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QStandardPaths>
#include <QTextDocument>

namespace rw::test {

inline QByteArray bytesOf(const QString& path) {
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

// ISO 32000-1, 7.7.3.2: the page tree's root counts the pages below it.
inline int pagesOf(const QByteArray& pdf) {
    const auto match =
        QRegularExpression(
            QStringLiteral("/Type\\s*/Pages\\b[^>]*/Count\\s+(\\d+)|/Count\\s+(\\d+)[^>]*/Type\\s*/Pages\\b"))
            .match(QString::fromLatin1(pdf));
    return match.hasMatch() ? (match.captured(1) + match.captured(2)).toInt() : -1;
}

// 7.7.3.3: the medium's size, in 1/72 inch.
inline QSizeF mediumOf(const QByteArray& pdf) {
    const auto match = QRegularExpression(QStringLiteral("/MediaBox\\s*\\[\\s*0\\s+0\\s+([\\d.]+)\\s+([\\d.]+)"))
                           .match(QString::fromLatin1(pdf));
    return {match.captured(1).toDouble(), match.captured(2).toDouble()};
}

// What a person reads: lines run together, any blank is one blank.
inline QString readable(QString text) { return text.replace(QChar(0x00A0), QLatin1Char(' ')).simplified(); }

inline QString readableHtml(const QString& html) {
    QTextDocument document;
    document.setHtml(html);
    return readable(document.toPlainText());
}

inline QString readablePdf(const QString& path) {
    QProcess reader;
    reader.start(QStandardPaths::findExecutable(QStringLiteral("pdftotext")),
                 {QStringLiteral("-layout"), path, QStringLiteral("-")});
    reader.waitForFinished();
    return readable(QString::fromUtf8(reader.readAllStandardOutput()));
}

} // namespace rw::test
