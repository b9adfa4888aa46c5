#include "app/desktop/pages/page_document.h"

#include "core/error.h"
#include "plotting/look.h"

#include <QAbstractTextDocumentLayout>
#include <QBuffer>
#include <QFileInfo>
#include <QPagedPaintDevice>
#include <QPainter>
#include <QPdfWriter>
#include <QSaveFile>
#include <QTextBlock>
#include <QTextCursor>
#include <QTextDocument>
#include <QTextLayout>
#include <QUrl>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double layoutDpi = 96.0; // of QTextDocument without a device
constexpr int paperDpi = 600;
constexpr double marginAcross_mm = 16.0, marginDown_mm = 13.0;
constexpr double largestType = 10.0, smallestType = 6.5, typeStep = 0.25; // pt

QString style(double points) {
    const Look& look = Look::light();
    return QStringLiteral(
               "body { font-family: Inter, sans-serif; font-size: %1pt; color: %2; }"
               "h1 { font-size: %3pt; margin-top: 0; margin-bottom: 4px; }"
               "h2 { font-size: %4pt; margin-top: 12px; margin-bottom: 4px; }"
               "p { margin-top: 4px; margin-bottom: 4px; }"
               ".soft { color: %5; } .head { color: %5; font-size: %6pt; } .large { font-size: %7pt; font-weight: 600; "
               "}"
               "td { padding: 3px 10px 3px 2px; } th { color: %5; font-weight: normal; padding: 3px 10px 3px 2px; }")
        .arg(points)
        .arg(look.ink.name())
        .arg(points * 1.9)
        .arg(points * 1.15)
        .arg(look.soft.name())
        .arg(points * 0.9)
        .arg(points * 1.35);
}

QString safe(const QString& text) { return text.toHtmlEscaped().replace(QLatin1Char('\n'), QStringLiteral("<br/>")); }

double firstLine(const QTextBlock& block) { // px from the document's top
    const QTextLayout& layout = *block.layout();
    return layout.position().y() + (layout.lineCount() > 0 ? layout.lineAt(0).y() : 0.0);
}

// A heading goes to the next page with what it heads.
void keepHeadings(QTextDocument& document, double pageHeight) {
    constexpr double within = 1.0; // px: a line that stands at a page's top stands there to rounding
    const auto pageOf = [&](const QTextBlock& block) { return std::floor((firstLine(block) + within) / pageHeight); };
    for (QTextBlock block = document.begin(); block.isValid(); block = block.next()) {
        const QTextBlock next = block.next();
        if (block.blockFormat().headingLevel() == 0 || !next.isValid()) continue;
        document.documentLayout()->blockBoundingRect(next); // laid out that far
        if (pageOf(block) == pageOf(next)) continue;
        QTextBlockFormat format = block.blockFormat();
        format.setPageBreakPolicy(QTextFormat::PageBreak_AlwaysBefore);
        QTextCursor(block).setBlockFormat(format);
    }
}

} // namespace

void PageDocument::title(const QString& text, const QString& beside) {
    body_ += QStringLiteral("<h1>%1</h1>").arg(safe(text));
    if (!beside.isEmpty()) paragraph(beside, true);
}

void PageDocument::heading(const QString& text) { body_ += QStringLiteral("<h2>%1</h2>").arg(safe(text)); }

void PageDocument::paragraph(const QString& text, bool soft) {
    body_ += QStringLiteral("<p%1>%2</p>").arg(soft ? QStringLiteral(" class=\"soft\"") : QString(), safe(text));
}

void PageDocument::picture(const QImage& image, const QString& description, int width) {
    // Both sides are told: with the width alone, text documents of Qt 6.4 keep the picture's own height.
    const int height = static_cast<int>(std::lround(static_cast<double>(width) * image.height() / image.width()));
    body_ += QStringLiteral("<p><img src=\"picture:%1\" alt=\"%2\" width=\"%3\" height=\"%4\"/></p>")
                 .arg(pictures_.size())
                 .arg(safe(description))
                 .arg(width)
                 .arg(height);
    pictures_.push_back(image);
}

void PageDocument::table(const std::vector<QStringList>& rows, int wordColumns) {
    body_ += QStringLiteral("<table width=\"100%\" cellspacing=\"0\" style=\"border-collapse: collapse;\">");
    for (std::size_t r = 0; r < rows.size(); ++r) {
        body_ += QStringLiteral("<tr>");
        for (qsizetype c = 0; c < rows[r].size(); ++c) {
            const QString tag = r == 0 ? QStringLiteral("th") : QStringLiteral("td");
            body_ +=
                QStringLiteral("<%1 align=\"%2\" style=\"border-bottom: 1px solid #d8d6d0;\">%3</%1>")
                    .arg(tag, c < wordColumns ? QStringLiteral("left") : QStringLiteral("right"), safe(rows[r][c]));
        }
        body_ += QStringLiteral("</tr>");
    }
    body_ += QStringLiteral("</table>");
}

void PageDocument::fields(const std::vector<std::pair<QString, QString>>& labelled, int columns) {
    body_ += QStringLiteral("<table width=\"100%\" cellspacing=\"0\"><tr>");
    for (std::size_t i = 0; i < labelled.size(); ++i) {
        if (i > 0 && i % static_cast<std::size_t>(columns) == 0) body_ += QStringLiteral("</tr><tr>");
        body_ +=
            QStringLiteral("<td width=\"%1%\"><span class=\"head\">%2</span><br/><span class=\"large\">%3</span></td>")
                .arg(100 / columns)
                .arg(safe(labelled[i].first), safe(labelled[i].second));
    }
    body_ += QStringLiteral("</tr></table>");
}

void PageDocument::checklists(const std::vector<std::pair<QString, QStringList>>& lists) {
    body_ += QStringLiteral("<table width=\"100%\" cellspacing=\"0\"><tr>");
    for (const auto& [head, lines] : lists) {
        body_ += QStringLiteral("<td valign=\"top\" width=\"%1%\"><h2>%2</h2>").arg(100 / lists.size()).arg(safe(head));
        for (const QString& line : lines)
            body_ += QStringLiteral("☐&nbsp;&nbsp;%1<br/>").arg(safe(line));
        body_ += QStringLiteral("</td>");
    }
    body_ += QStringLiteral("</tr></table>");
}

void PageDocument::entry(const QString& head, const QString& mark, const QStringList& lines) {
    body_ += QStringLiteral("<p><b>%1</b>").arg(safe(head));
    if (!mark.isEmpty()) body_ += QStringLiteral(" <span class=\"soft\">· %1</span>").arg(safe(mark));
    for (const QString& line : lines)
        body_ += QStringLiteral("<br/>%1").arg(safe(line));
    body_ += QStringLiteral("</p>");
}

QString PageDocument::html() const {
    QString body = body_;
    for (std::size_t i = 0; i < pictures_.size(); ++i) {
        QByteArray bytes;
        QBuffer buffer(&bytes);
        buffer.open(QIODevice::WriteOnly);
        pictures_[i].save(&buffer, "PNG");
        body.replace(QStringLiteral("picture:%1\"").arg(i),
                     QStringLiteral("data:image/png;base64,%1\"").arg(QString::fromLatin1(bytes.toBase64())));
    }
    return QStringLiteral("<!DOCTYPE html>\n<html><head><meta charset=\"utf-8\"/><title>%1</title><style>%2 "
                          "body { max-width: 46em; margin: 2em auto; }</style></head>\n<body>%3</body></html>\n")
        .arg(safe(title_), style(largestType + 1.0), body);
}

QByteArray PageDocument::pdf(QPageSize::PageSizeId paper, bool onePage, const WorkOptions& work) const {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setTitle(title_);
    writer.setCreator(QStringLiteral("Runwright"));
    writer.setResolution(paperDpi);
    writer.setPageSize(QPageSize(paper));
    return printOn(writer, onePage, work) > 0 ? bytes : QByteArray();
}

int PageDocument::printOn(QPagedPaintDevice& device, bool onePage, const WorkOptions& work) const {
    if (drawn_.count > 0) return printDrawn(device, work);
    device.setPageMargins({marginAcross_mm, marginDown_mm, marginAcross_mm, marginDown_mm}, QPageLayout::Millimeter);
    const double scale = device.logicalDpiY() / layoutDpi;
    const QSizeF page(device.width() / scale, device.height() / scale);
    QTextDocument document;
    document.setDocumentMargin(0.0);
    for (std::size_t i = 0; i < pictures_.size(); ++i)
        document.addResource(QTextDocument::ImageResource, QUrl(QStringLiteral("picture:%1").arg(i)), pictures_[i]);
    for (double points = largestType; points >= smallestType && !work.stop.stop_requested(); points -= typeStep) {
        document.setDefaultStyleSheet(style(points));
        document.setHtml(QStringLiteral("<body>%1</body>").arg(body_));
        document.setPageSize(page);
        if (!onePage || document.pageCount() == 1) break;
    }
    if (!onePage) keepHeadings(document, page.height());
    QPainter painter(&device);
    painter.scale(scale, scale);
    const int pages = document.pageCount();
    for (int i = 0; i < pages; ++i) {
        if (work.stop.stop_requested()) return 0;
        if (work.progress) work.progress(static_cast<double>(i) / pages);
        if (i > 0) device.newPage();
        painter.save();
        painter.translate(0.0, -i * page.height());
        QAbstractTextDocumentLayout::PaintContext context;
        context.palette = Look::light().palette();
        context.clip = QRectF(0.0, i * page.height(), page.width(), page.height());
        painter.setClipRect(context.clip);
        document.documentLayout()->draw(&painter, context);
        painter.restore();
    }
    return pages;
}

int PageDocument::printDrawn(QPagedPaintDevice& device, const WorkOptions& work) const {
    device.setPageOrientation(QPageLayout::Landscape);
    device.setPageMargins({marginAcross_mm, marginDown_mm, marginAcross_mm, marginDown_mm}, QPageLayout::Millimeter);
    const double natural = device.logicalDpiY() / layoutDpi;
    const QSizeF paper(device.width(), device.height());
    const double scale =
        std::min({natural, paper.width() / drawn_.least.width(), paper.height() / drawn_.least.height()});
    QPainter painter(&device);
    painter.scale(scale, scale);
    for (int i = 0; i < drawn_.count; ++i) {
        if (work.stop.stop_requested()) return 0;
        if (work.progress) work.progress(static_cast<double>(i) / drawn_.count);
        if (i > 0) device.newPage();
        drawn_.paint(painter, i, paper / scale);
    }
    return drawn_.count;
}

bool PageDocument::writeTo(const QString& path, QPageSize::PageSizeId paper, bool onePage,
                           const WorkOptions& work) const {
    const QString suffix = QFileInfo(path).suffix().toLower();
    QByteArray bytes;
    if (suffix == QLatin1String("pdf"))
        bytes = pdf(paper, onePage, work);
    else if (suffix == QLatin1String("html") || suffix == QLatin1String("htm"))
        bytes = html().toUtf8();
    else
        throw InputError(path.toStdString(), "expected a name that ends in .pdf or .html");
    if (work.stop.stop_requested()) return false;
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size() || !file.commit())
        throw InputError(path.toStdString(), "cannot be written: " + file.errorString().toStdString());
    return true;
}

} // namespace rw
