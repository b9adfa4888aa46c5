// A page for paper and screen: one HTML text, made only from escaped words, printed as PDF and written as HTML alike.
#pragma once

#include "core/plan/parallel.h"

#include <QImage>
#include <QLocale>
#include <QPageSize>
#include <QSizeF>
#include <QString>
#include <QStringList>

#include <functional>
#include <utility>
#include <vector>

class QPagedPaintDevice;
class QPainter;

namespace rw {

// What stands on landscape paper in place of the text: scaled so that a page holds at least `least` logical pixels.
struct DrawnPages {
    int count = 0;
    QSizeF least;
    std::function<void(QPainter&, int page, QSizeF size)> paint;
};

class PageDocument {
public:
    explicit PageDocument(QString title)
        : title_(std::move(title)) {}

    // Every text is plain and is escaped here; nothing typed becomes markup.
    void heading(const QString& text);
    void title(const QString& text, const QString& beside = {});
    void paragraph(const QString& text, bool soft = false);
    void picture(const QImage& image, const QString& description, int widthInPixels);
    // First row: heads. The first `wordColumns` are words, the rest figures on the right.
    void table(const std::vector<QStringList>& rows, int wordColumns = 1);
    // Fields with a small label over a large value, `columns` side by side.
    void fields(const std::vector<std::pair<QString, QString>>& labelled, int columns);
    // Lists side by side, each with a head; boxes to tick before the lines.
    void checklists(const std::vector<std::pair<QString, QStringList>>& lists);
    void entry(const QString& head, const QString& mark, const QStringList& lines); // a finding
    void drawOnPaper(DrawnPages pages) { drawn_ = std::move(pages); }

    // onePage: the type shrinks until it fits. work.stop is asked between sizes of type and between pages; where it is
    // wished for, false is returned and nothing is written.
    // By suffix: pdf, html. Written beside its place and renamed: never half a file. Throws InputError naming the file
    // where it cannot be written.
    bool writeTo(const QString& path, QPageSize::PageSizeId paper, bool onePage, const WorkOptions& work = {}) const;
    // On a printer whose paper is chosen. Returns the number of pages; 0 where stopped.
    int printOn(QPagedPaintDevice& device, bool onePage, const WorkOptions& work = {}) const;
    [[nodiscard]] QString html() const; // pictures inside as data

private:
    int printDrawn(QPagedPaintDevice& device, const WorkOptions& work) const;
    [[nodiscard]] QByteArray pdf(QPageSize::PageSizeId paper, bool onePage, const WorkOptions& work) const;

    QString title_, body_;
    std::vector<QImage> pictures_;
    DrawnPages drawn_;
};

// The paper that people have in their printers; both kinds hold the run sheet.
[[nodiscard]] inline QPageSize::PageSizeId usualPaper() {
    switch (QLocale::system().territory()) {
    case QLocale::UnitedStates:
    case QLocale::Canada:
    case QLocale::Mexico:
        return QPageSize::Letter;
    default:
        return QPageSize::A4;
    }
}

} // namespace rw
