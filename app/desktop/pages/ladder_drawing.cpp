#include "app/desktop/pages/ladder_drawing.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double sideWidth = 15.0 * gridStep, widestColumn = 44.0 * gridStep, inset = gridStep;
constexpr double rowHeight = 22.0, boxHeight = 21.0, apart = 7.0, leastStair = 22.0 * gridStep, tick = 9.0;

double lineOf(Type type) { return QFontMetricsF(font(type)).height(); }
double widthOf(Type type, const QString& text) { return figuresWidth(font(type), text); }
double heightOf(Type type, double width, const QString& text) {
    if (text.isEmpty()) return 0.0;
    return QFontMetricsF(font(type)).boundingRect(QRectF(0.0, 0.0, width, 4000.0), Qt::TextWordWrap, text).height();
}

constexpr float underTreads = 0.06F;

QColor washed(const QColor& ground, const QColor& over, float share) {
    const auto mix = [share](float a, float b) { return a + (b - a) * share; };
    return QColor::fromRgbF(mix(ground.redF(), over.redF()), mix(ground.greenF(), over.greenF()),
                            mix(ground.blueF(), over.blueF()));
}

struct FigureWidths {
    double label = 0.0, expect = 0.0, goOn = 0.0, stop = 0.0;
    double words = 0.0; // what else stands in one line of a column
    [[nodiscard]] double figures() const { return expect + goOn + stop + 2.0 * apart; }
    [[nodiscard]] double whole() const { return std::max(label + apart + figures(), words) + 2.0 * inset; }
    [[nodiscard]] double compact() const { return std::max(figures(), words) + 2.0 * inset; }
};

FigureWidths widthsOf(const LadderSheet& sheet) {
    FigureWidths out{0.0, widthOf(Type::Small, sheet.heads.expect), widthOf(Type::Small, sheet.heads.goOn),
                     widthOf(Type::Small, sheet.heads.stop), 0.0};
    const double gap = widthOf(Type::Small, QStringLiteral(" "));
    for (const LadderColumn& column : sheet.columns) {
        out.words = std::max({out.words, widthOf(Type::Small, column.wait),
                              widthOf(Type::Heading, column.figure) + gridStep + widthOf(Type::Small, column.band)});
        for (const QString& box : column.boxes)
            out.words = std::max(out.words, tick + gridStep + widthOf(Type::Small, box));
        for (const LadderLine& line : column.lines) {
            out.label = std::max(out.label, widthOf(Type::Small, line.label) + gap + widthOf(Type::Small, line.unit));
            out.expect = std::max(out.expect, widthOf(Type::SmallStrong, line.expect));
            out.goOn = std::max(out.goOn, widthOf(Type::Small, line.goOn));
            out.stop = std::max(out.stop, widthOf(Type::Small, line.stop));
        }
    }
    return out;
}

// Every figure that a step of this part has, in the order of the sheet.
std::vector<LadderLine> rowsOf(const LadderSheet& sheet, const LadderPart& part) {
    std::vector<LadderLine> out;
    for (std::size_t i = part.first; i < part.first + part.count; ++i)
        for (const LadderLine& line : sheet.columns[i].lines)
            if (std::ranges::find(out, line.label, &LadderLine::label) == out.end()) out.push_back(line);
    return out;
}

QString readingInOneLine(const LadderSheet& sheet) {
    QStringList out;
    for (const auto& [head, text] : sheet.reading)
        out << head + QStringLiteral(": ") + text;
    return out.join(QLatin1Char(' '));
}

// Where everything stands in a drawing of one width. Heights are those of the tallest column: rows line up.
struct Layout {
    double column = 0.0, inner = 0.0;
    double title = 0.0, under = 0.0, change = 0.0, stays = 0.0, lines = 0.0, boxes = 0.0, body = 0.0, foot = 0.0;
    FigureWidths widths;
    std::vector<LadderLine> rows;
    bool compact = false; // names of figures and the wait at the side, how to read it at the foot

    Layout(const LadderSheet& sheet, const LadderPart& part, double width)
        : widths(widthsOf(sheet))
        , rows(rowsOf(sheet, part)) {
        const auto count = static_cast<double>(std::max<std::size_t>(1, part.count));
        column = std::min((width - sideWidth) / count, widestColumn);
        compact = column < widths.whole();
        inner = column - 2.0 * inset;
        const double small = lineOf(Type::Small);
        title = lineOf(Type::Heading) + gridStep + small + 4.0;
        for (std::size_t i = part.first; i < part.first + part.count; ++i) {
            const LadderColumn& c = sheet.columns[i];
            under = std::max(under, heightOf(Type::Small, inner, c.under.join(QLatin1Char('\n'))));
            change = std::max(change, heightOf(Type::Strong, inner, c.change));
            stays = std::max(stays, heightOf(Type::Small, inner, c.stays));
            boxes = std::max(boxes, boxHeight * static_cast<double>(c.boxes.size() + 1));
        }
        lines = rowHeight * static_cast<double>(rows.size());
        body =
            gridStep + small + 2.0 + change + 2.0 + stays + gridStep + small + 4.0 + lines + 4.0 + 26.0 + 4.0 + boxes;
        double reading = gridStep;
        for (const auto& [head, text] : sheet.reading)
            reading += small + 2.0 + heightOf(Type::Small, sideWidth - inset, text) + gridStep;
        if (!compact) body = std::max(body, reading);
        foot = 1.5 * gridStep + small + 2.0 + heightOf(Type::Small, width, sheet.cautions);
        if (compact) foot += heightOf(Type::Small, width, readingInOneLine(sheet)) + gridStep;
    }
    [[nodiscard]] double heads() const { // of the columns of figures, under the foot of the stair
        return gridStep + lineOf(Type::Small) + 2.0 + change + 2.0 + stays + gridStep;
    }
    [[nodiscard]] double firstRow() const { return heads() + lineOf(Type::Small) + 4.0; }
    [[nodiscard]] double after() const { return body - boxes - 34.0; } // the wait and what stands below it
    [[nodiscard]] double left(std::size_t i) const { return sideWidth + column * static_cast<double>(i); }
    [[nodiscard]] double aboveTreads() const { return lineOf(Type::Heading) + 6.0; }
    [[nodiscard]] double belowTreads() const { return std::max(under, lineOf(Type::Small)) + 2.0 * gridStep; }
    [[nodiscard]] double leastHeight() const {
        return title + std::max(leastStair, aboveTreads() + belowTreads() + 8.0 * gridStep) + body + foot;
    }
};

class LadderPainter {
public:
    LadderPainter(QPainter& painter, const LadderSheet& sheet, const LadderPart& part, const Look& look, QSizeF size)
        : p_(painter)
        , sheet_(sheet)
        , part_(part)
        , look_(look)
        , size_(size)
        , at_(sheet, part, size.width())
        , bottom_(size.height() - at_.body - at_.foot) {
        low_ = std::min(sheet.proven, sheet.target.value_or(sheet.proven));
        high_ = std::max(sheet.proven, sheet.target.value_or(sheet.proven));
        for (const LadderColumn& column : sheet.columns)
            low_ = std::min(low_, column.low), high_ = std::max(high_, column.high);
        if (!(high_ > low_)) high_ = low_ + 1.0;
        right_ = at_.left(std::max<std::size_t>(1, part.count));
    }

    void all(std::optional<std::size_t> chosen) {
        drawTitle();
        drawScale();
        drawSide();
        for (std::size_t i = 0; i < part_.count; ++i)
            drawTread(i);
        for (std::size_t i = 0; i < part_.count; ++i)
            drawStep(i, chosen == part_.first + i);
        drawFoot();
    }

private:
    [[nodiscard]] double y(double speed) const {
        const double top = at_.title + at_.aboveTreads(), floor = bottom_ - at_.belowTreads();
        return floor - (speed - low_) / (high_ - low_) * (floor - top);
    }
    [[nodiscard]] const LadderColumn& column(std::size_t i) const { return sheet_.columns[part_.first + i]; }
    // The tread from which the first riser of this part rises.
    [[nodiscard]] double before(std::size_t i) const {
        const std::size_t index = part_.first + i;
        return index == 0 ? sheet_.proven : sheet_.columns[index - 1].mean;
    }
    void write(Type type, const QColor& color, const QRectF& box, int flags, const QString& text) {
        setInk(p_, type, color);
        p_.drawText(box, flags, text);
    }
    void rule(double x, double width, double height) {
        strokeLine(p_, QPen(look_.rule, 1.0), QPointF(x, height), QPointF(x + width, height));
    }

    void drawTitle() {
        const double heading = lineOf(Type::Heading);
        const QRectF line(0.0, 0.0, size_.width(), heading);
        write(Type::Heading, look_.ink, line, Qt::AlignLeft | Qt::AlignVCenter, sheet_.title);
        write(Type::Small, look_.soft, line, Qt::AlignRight | Qt::AlignVCenter, sheet_.beside);
        write(Type::SmallStrong, look_.soft, QRectF(0.0, heading + gridStep, size_.width(), lineOf(Type::Small)),
              Qt::AlignLeft, sheet_.axis);
    }

    // Few round speeds, dotted, and the target. Where its words would stand on the proven speed they go to the right.
    void drawScale() {
        const double small = lineOf(Type::Small), large = lineOf(Type::Heading), from = y(before(0));
        const auto taken = [&](double line, double above) {
            return line > from - large - 8.0 - above && line - above < from + small + 4.0;
        };
        const double rough = (high_ - low_) / 4.0, power = std::pow(10.0, std::floor(std::log10(rough)));
        double step = 10.0 * power;
        for (const double part : {5.0, 2.0, 1.0})
            if (part * power >= rough) step = part * power;
        const auto last = static_cast<int>(std::floor(high_ / step));
        for (int line = static_cast<int>(std::ceil(low_ / step)); line <= last; ++line) {
            const double speed = line * step;
            strokeLine(p_, QPen(look_.rule, 1.0, Qt::DotLine), QPointF(sideWidth, y(speed)), QPointF(right_, y(speed)));
            const bool nearTarget = sheet_.target && std::abs(y(*sheet_.target) - y(speed)) < 1.6 * small;
            if (taken(y(speed), small) || nearTarget) continue;
            write(Type::Small, look_.soft, QRectF(0.0, y(speed) - small, sideWidth, small), Qt::AlignLeft,
                  figure(speed, step < 1.0 ? 1 : 0));
        }
        if (!sheet_.target) return;
        const double line = y(*sheet_.target);
        strokeLine(p_, QPen(look_.ink, 1.25, Qt::DotLine), QPointF(0.0, line), QPointF(right_, line));
        const QRectF box(0.0, line - small - 1.0, right_, small);
        write(Type::SmallStrong, look_.ink, box, taken(line, small) ? Qt::AlignRight : Qt::AlignLeft,
              sheet_.targetWords);
    }

    void drawSide() {
        const double small = lineOf(Type::Small), large = lineOf(Type::Heading);
        const double here = y(before(0));
        p_.setPen(QPen(look_.hue(Hue::Speed), 2.0, Qt::SolidLine, Qt::FlatCap));
        p_.drawLine(QPointF(0.0, here), QPointF(sideWidth, here));
        const bool first = part_.first == 0;
        write(Type::Heading, look_.ink, QRectF(0.0, here - large - 3.0, sideWidth, large), Qt::AlignLeft,
              first ? sheet_.provenFigure : sheet_.columns[part_.first - 1].figure);
        write(Type::Small, look_.soft, QRectF(0.0, here + 4.0, sideWidth, small), Qt::AlignLeft,
              first ? sheet_.provenWords : sheet_.columns[part_.first - 1].head);
        if (at_.compact) return nameRows();
        double top = bottom_ + gridStep;
        for (const auto& [head, text] : sheet_.reading) {
            const double width = sideWidth - inset, height = heightOf(Type::Small, width, text);
            write(Type::SmallStrong, look_.ink, QRectF(0.0, top, width, small), Qt::AlignLeft, head);
            write(Type::Small, look_.soft, QRectF(0.0, top + small + 2.0, width, height + 2.0),
                  Qt::AlignLeft | Qt::TextWordWrap, text);
            top += small + 2.0 + height + gridStep;
        }
    }

    void nameRows() {
        double top = bottom_ + at_.firstRow();
        for (const LadderLine& row : at_.rows) {
            name(row, QRectF(0.0, top, sideWidth - inset, rowHeight));
            top += rowHeight;
        }
        for (const LadderColumn& c : sheet_.columns) {
            if (c.waitLabel.isEmpty()) continue;
            const QRectF wait(0.0, bottom_ + at_.after() + 2.0, sideWidth - inset, 24.0);
            return write(Type::Small, look_.ink, wait, Qt::AlignLeft | Qt::AlignVCenter, c.waitLabel);
        }
    }

    void name(const LadderLine& line, const QRectF& box) {
        write(Type::Small, look_.ink, box, Qt::AlignLeft | Qt::AlignVCenter, line.label);
        const double label = QFontMetricsF(p_.font()).horizontalAdvance(line.label + QLatin1Char(' '));
        write(Type::Small, look_.soft, box.adjusted(label, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter, line.unit);
    }

    void drawTread(std::size_t i) {
        const LadderColumn& c = column(i);
        const double left = at_.left(i), here = y(c.mean), small = lineOf(Type::Small), large = lineOf(Type::Heading);
        QColor below = look_.hue(Hue::Speed), band = below;
        below.setAlphaF(underTreads), band.setAlphaF(0.2F);
        if (!c.blocked) p_.fillRect(QRectF(left, here, at_.column, bottom_ - here), below);
        p_.fillRect(QRectF(left, y(c.high), at_.column, y(c.low) - y(c.high)), band);
        const QColor color = c.blocked ? look_.bad : look_.hue(Hue::Speed);
        p_.setPen(QPen(color, 2.0, c.blocked ? Qt::DashLine : Qt::SolidLine, Qt::FlatCap));
        p_.drawLine(QPointF(left, y(before(i))), QPointF(left, here));
        p_.drawLine(QPointF(left, here), QPointF(left + at_.column, here));
        const double above = std::min(y(c.high), here) - large - 3.0;
        const QRectF box(left + inset, above, at_.inner, large);
        write(Type::Heading, look_.ink, box, Qt::AlignLeft | Qt::AlignVCenter, c.figure);
        const double width = QFontMetricsF(rw::font(Type::Heading)).horizontalAdvance(c.figure) + gridStep;
        write(Type::Small, look_.soft, box.adjusted(width, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter, c.band);
        double top = std::max(y(c.low), here) + 4.0;
        for (const QString& text : c.under) {
            const double height = heightOf(Type::Small, at_.inner, text);
            const bool marked = text.startsWith(QChar(0x25B2));
            if (!c.blocked) // words stay readable where a line of the scale runs through
                p_.fillRect(QRectF(left + inset, top, std::min(at_.inner, widthOf(Type::SmallStrong, text)), height),
                            washed(look_.sheet, look_.hue(Hue::Speed), underTreads));
            write(marked ? Type::SmallStrong : Type::Small, marked ? look_.bad : look_.soft,
                  QRectF(left + inset, top, at_.inner, height + small), Qt::AlignLeft | Qt::TextWordWrap, text);
            top += height;
        }
    }

    void drawStep(std::size_t i, bool chosen) {
        const LadderColumn& c = column(i);
        const double x = at_.left(i) + inset, small = lineOf(Type::Small);
        strokeLine(p_, QPen(look_.rule, 1.0), QPointF(at_.left(i), bottom_), QPointF(at_.left(i), bottom_ + at_.body));
        if (chosen) p_.fillRect(QRectF(at_.left(i), bottom_, at_.column, 2.0), look_.accent);
        double top = bottom_ + gridStep;
        write(chosen ? Type::SmallStrong : Type::Small, chosen ? look_.accent : look_.soft,
              QRectF(x, top, at_.inner, small), Qt::AlignLeft, c.head);
        top += small + 2.0;
        write(Type::Strong, look_.ink, QRectF(x, top, at_.inner, at_.change + 2.0), Qt::AlignLeft | Qt::TextWordWrap,
              c.change);
        top += at_.change + 2.0;
        write(Type::Small, look_.soft, QRectF(x, top, at_.inner, at_.stays + 2.0), Qt::AlignLeft | Qt::TextWordWrap,
              c.stays);
        if (c.blocked) return;
        drawLine(sheet_.heads, x, bottom_ + at_.heads(), small, true);
        rule(x, at_.inner, bottom_ + at_.firstRow() - 2.0);
        for (const LadderLine& line : c.lines) {
            const auto row = std::ranges::find(at_.rows, line.label, &LadderLine::label) - at_.rows.begin();
            drawLine(line, x, bottom_ + at_.firstRow() + rowHeight * static_cast<double>(row), rowHeight, false);
        }
        drawAfter(c, x, bottom_ + at_.after());
    }

    void drawLine(const LadderLine& line, double x, double top, double height, bool head) {
        double right = x + at_.inner;
        const auto put = [&](double width, Type type, const QColor& color, const QString& text) {
            setInk(p_, type, color);
            drawFigures(p_, QRectF(right - width, top, width, height), Qt::AlignRight | Qt::AlignVCenter, text);
            right -= width + apart;
        };
        put(at_.widths.stop, Type::Small, head ? look_.soft : look_.bad, line.stop);
        put(at_.widths.goOn, Type::Small, head ? look_.soft : look_.ink, line.goOn);
        put(at_.widths.expect, head ? Type::Small : Type::SmallStrong, head ? look_.soft : look_.ink, line.expect);
        if (!at_.compact) name(line, QRectF(x, top, right - x, height));
    }

    // The wait between two rules, the boxes to tick, and the line to write on.
    void drawAfter(const LadderColumn& c, double x, double top) {
        rule(x, at_.inner, top);
        const QRectF wait(x, top + 2.0, at_.inner, 24.0);
        if (!at_.compact) write(Type::Small, look_.ink, wait, Qt::AlignLeft | Qt::AlignVCenter, c.waitLabel);
        write(Type::SmallStrong, look_.ink, wait, Qt::AlignRight | Qt::AlignVCenter, c.wait);
        rule(x, at_.inner, top + 28.0);
        top += 32.0;
        for (const QString& text : c.boxes) {
            p_.setPen(QPen(look_.ink, 1.0));
            p_.setBrush(Qt::NoBrush);
            p_.drawRect(QRectF(x + 0.5, top + 0.5 * (boxHeight - tick), tick, tick));
            write(Type::Small, look_.ink, QRectF(x + tick + gridStep, top, at_.inner - tick - gridStep, boxHeight),
                  Qt::AlignLeft | Qt::AlignVCenter, text);
            top += boxHeight;
        }
        write(Type::Small, look_.soft, QRectF(x, top, at_.inner, boxHeight), Qt::AlignLeft | Qt::AlignVCenter, c.seen);
        const double from = x + QFontMetricsF(p_.font()).horizontalAdvance(c.seen) + gridStep;
        p_.setPen(QPen(look_.ink, 1.0));
        p_.drawLine(QPointF(from, top + boxHeight - 3.0), QPointF(x + at_.inner, top + boxHeight - 3.0));
    }

    void drawFoot() {
        double top = size_.height() - at_.foot + gridStep;
        rule(0.0, size_.width(), top - 2.0);
        top += 4.0;
        if (at_.compact) {
            const QString reading = readingInOneLine(sheet_);
            const double height = heightOf(Type::Small, size_.width(), reading);
            write(Type::Small, look_.soft, QRectF(0.0, top, size_.width(), height + 2.0),
                  Qt::AlignLeft | Qt::TextWordWrap, reading);
            top += height + gridStep;
        }
        write(Type::SmallStrong, look_.ink, QRectF(0.0, top, size_.width(), lineOf(Type::Small)), Qt::AlignLeft,
              sheet_.cautionHead);
        top += lineOf(Type::Small) + 2.0;
        write(Type::Small, look_.soft, QRectF(0.0, top, size_.width(), size_.height() - top + 4.0),
              Qt::AlignLeft | Qt::TextWordWrap, sheet_.cautions);
    }

    QPainter& p_;
    const LadderSheet& sheet_;
    const LadderPart& part_;
    const Look& look_;
    QSizeF size_;
    Layout at_;
    double bottom_, right_ = 0.0; // where the stair ends and the steps begin
    double low_ = 0.0, high_ = 1.0;
};

} // namespace

std::vector<LadderPart> ladderPages(const LadderSheet& sheet) {
    std::vector<LadderPart> out;
    for (std::size_t first = 0; first < sheet.columns.size(); first += ladderColumnsOnAPage)
        out.push_back({first, std::min(ladderColumnsOnAPage, sheet.columns.size() - first)});
    if (out.empty()) out.emplace_back();
    return out;
}

QSizeF ladderLeast(const LadderSheet& sheet, const LadderPart& part) {
    const double width =
        sideWidth + static_cast<double>(std::max<std::size_t>(1, part.count)) * widthsOf(sheet).compact();
    return {width, ladderLeastHeight(sheet, part, width)};
}

double ladderLeastHeight(const LadderSheet& sheet, const LadderPart& part, double width) {
    return Layout(sheet, part, width).leastHeight();
}

void paintLadder(QPainter& painter, const LadderSheet& sheet, const LadderPart& part, const Look& look, QSizeF size,
                 std::optional<std::size_t> chosen) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    LadderPainter(painter, sheet, part, look, size).all(chosen);
    painter.restore();
}

std::pair<double, double> ladderColumnAt(const LadderSheet& sheet, const LadderPart& part, double width,
                                         std::size_t column) {
    const Layout layout(sheet, part, width);
    return {layout.left(column), layout.left(column + 1)};
}

} // namespace rw
