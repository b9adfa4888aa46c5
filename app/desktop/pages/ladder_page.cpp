#include "app/desktop/pages/ladder_page.h"

#include "app/desktop/pages/ladder_drawing.h"

#include <QCoreApplication>

namespace rw {

namespace {

// One size for all pages, so that steps are as wide on the last, shorter one.
DrawnPages drawnLadder(const LadderSheet& sheet) {
    DrawnPages out;
    const std::vector<LadderPart> parts = ladderPages(sheet);
    out.count = static_cast<int>(parts.size());
    for (const LadderPart& part : parts)
        out.least = out.least.expandedTo(ladderLeast(sheet, part));
    out.paint = [sheet, parts](QPainter& painter, int page, QSizeF size) {
        LadderSheet numbered = sheet;
        if (parts.size() > 1)
            numbered.beside = QCoreApplication::translate("pages", "%1 · page %2 of %3")
                                  .arg(sheet.beside)
                                  .arg(page + 1)
                                  .arg(parts.size());
        paintLadder(painter, numbered, parts[static_cast<std::size_t>(page)], Look::light(), size);
    };
    return out;
}

} // namespace

PageDocument makeLadderPage(const LadderSheet& sheet) {
    PageDocument page(sheet.title);
    page.title(sheet.title, sheet.beside);
    page.table(ladderTable(sheet));
    for (const LadderColumn& column : sheet.columns)
        if (!column.boxes.isEmpty()) page.checklists({{column.head, column.boxes}});
    for (const auto& [head, text] : sheet.reading)
        page.entry(head, {}, {text});
    page.heading(sheet.cautionHead);
    page.paragraph(sheet.cautions, true);
    page.drawOnPaper(drawnLadder(sheet));
    return page;
}

} // namespace rw
