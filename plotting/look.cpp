#include "plotting/look.h"

#include <QApplication>
#include <QFontDatabase>
#include <QFontInfo>
#include <QFontMetricsF>
#include <QPainter>
#include <QWidget>

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

constexpr int hueCount = static_cast<int>(Hue::Count_);

// Okabe–Ito in the order of Hue: blue, vermillion, bluish green, sky blue, orange, reddish purple, yellow, black.
// Each keeps its name's hue; lightness is moved until the line has 3 : 1 against the ground.
constexpr std::array<QRgb, hueCount> lightHues{0x0072B2, 0xCC5500, 0x00855F, 0x328CC9,
                                               0xB07700, 0xB25F92, 0x8A8000, 0x4B4F55};
constexpr std::array<QRgb, hueCount> nightHues{0x56B4E9, 0xF08A4B, 0x35C496, 0x9FD2F3,
                                               0xE69F00, 0xD79BBD, 0xF0E442, 0xB9BDC2};

} // namespace

QColor Look::hue(Hue which) const { return series(static_cast<int>(which)); }

QColor Look::series(int index) const {
    const int place = ((index % hueCount) + hueCount) % hueCount;
    return QColor::fromRgb((dark ? nightHues : lightHues)[static_cast<std::size_t>(place)]);
}

const Look& Look::light() {
    static const Look look{.dark = false,
                           .ground = QColor(0xF5, 0xF4, 0xF1),
                           .sheet = QColor(0xFC, 0xFB, 0xF9),
                           .ink = QColor(0x23, 0x28, 0x2D),
                           .soft = QColor(0x62, 0x6A, 0x73),
                           .rule = QColor(0xDC, 0xD9, 0xD2),
                           .accent = QColor(0x1F, 0x5F, 0x6B),
                           .wash = QColor(0xE1, 0xEB, 0xEB),
                           .warn = QColor(0xA8, 0x43, 0x0A),
                           .bad = QColor(0xA3, 0x12, 0x3A)};
    return look;
}

const Look& Look::night() {
    static const Look look{.dark = true,
                           .ground = QColor(0x1D, 0x20, 0x23),
                           .sheet = QColor(0x24, 0x28, 0x2C),
                           .ink = QColor(0xE7, 0xE5, 0xE1),
                           .soft = QColor(0x9D, 0xA5, 0xAD),
                           .rule = QColor(0x3A, 0x40, 0x46),
                           .accent = QColor(0x6F, 0xB7, 0xC1),
                           .wash = QColor(0x2A, 0x3A, 0x3D),
                           .warn = QColor(0xF0, 0x95, 0x4F),
                           .bad = QColor(0xFF, 0x7D, 0x9B)};
    return look;
}

const Look& Look::of(const QPalette& palette) {
    // By the text: a style sheet may make the window's own colour transparent.
    return palette.color(QPalette::WindowText).lightness() > 127 ? night() : light();
}

const Look& Look::of(const QWidget* widget) { return of(widget != nullptr ? widget->palette() : QPalette()); }

QPalette Look::palette() const {
    QPalette result;
    const auto set = [&result](QPalette::ColorRole role, const QColor& color) { result.setColor(role, color); };
    set(QPalette::Window, ground);
    set(QPalette::WindowText, ink);
    set(QPalette::Base, sheet);
    set(QPalette::AlternateBase, ground);
    set(QPalette::Text, ink);
    set(QPalette::Button, sheet);
    set(QPalette::ButtonText, ink);
    set(QPalette::BrightText, bad);
    set(QPalette::ToolTipBase, sheet);
    set(QPalette::ToolTipText, ink);
    set(QPalette::PlaceholderText, soft);
    set(QPalette::Highlight, wash);
    set(QPalette::HighlightedText, ink);
    set(QPalette::Link, accent);
    set(QPalette::LinkVisited, accent);
    set(QPalette::Light, dark ? rule.lighter(115) : sheet);
    set(QPalette::Midlight, rule);
    set(QPalette::Mid, rule);
    set(QPalette::Dark, dark ? rule.lighter(130) : rule.darker(130));
    set(QPalette::Shadow, dark ? QColor(Qt::black) : soft);
    for (const QPalette::ColorRole role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText}) {
        QColor faint = soft;
        faint.setAlphaF(0.7F);
        result.setColor(QPalette::Disabled, role, faint);
    }
    return result;
}

QFont baseFont() {
    QFont result = QApplication::font();
    if (QFontDatabase::families().contains(QStringLiteral("Inter"))) {
        result = QFont(QStringLiteral("Inter"));
        result.setPointSize(10);
    }
#if QT_VERSION >= QT_VERSION_CHECK(6, 7, 0)
    result.setFeature("tnum", 1);
#endif
    return result;
}

QFont font(Type role) {
    QFont result = QApplication::font();
    const double base = QFontInfo(result).pixelSize();
    double share = 1.0;
    QFont::Weight weight = QFont::Normal;
    switch (role) {
    case Type::Body:
        break;
    case Type::Strong:
        weight = QFont::DemiBold;
        break;
    case Type::Heading:
        weight = QFont::DemiBold;
        share = 1.08;
        break;
    case Type::Small:
        share = 0.87;
        break;
    case Type::SmallStrong:
        share = 0.87;
        weight = QFont::DemiBold;
        break;
    case Type::Figure:
        share = 1.7;
        weight = QFont::DemiBold;
        break;
    }
    // Pixels, not points: a chart drawn on paper is scaled as a whole, its text with it.
    result.setPixelSize(static_cast<int>(std::lround(base * share)));
    result.setWeight(weight);
    return result;
}

namespace {

double digitWidth(const QFontMetricsF& metrics) {
    double widest = 0.0;
    for (char digit = '0'; digit <= '9'; ++digit)
        widest = std::max(widest, metrics.horizontalAdvance(QLatin1Char(digit)));
    return widest;
}

double cellWidth(const QFontMetricsF& metrics, QChar c, double digit) {
    // A minus, a dash for "none" and a figure space take the width of a digit, so columns stay on the point.
    const bool asDigit = c.isDigit() || c == QChar(0x2212) || c == QChar(0x2007);
    return asDigit ? digit : metrics.horizontalAdvance(c);
}

} // namespace

double figuresWidth(const QFont& font, const QString& text) {
    const QFontMetricsF metrics(font);
    const double digit = digitWidth(metrics);
    double width = 0.0;
    for (const QChar c : text)
        width += cellWidth(metrics, c, digit);
    return width;
}

void drawFigures(QPainter& painter, const QRectF& rect, Qt::Alignment alignment, const QString& text) {
    const QFontMetricsF metrics(painter.font());
    const double digit = digitWidth(metrics);
    const double width = figuresWidth(painter.font(), text);
    double x = rect.left();
    if (alignment.testFlag(Qt::AlignRight)) x = rect.right() - width;
    if (alignment.testFlag(Qt::AlignHCenter)) x = rect.center().x() - 0.5 * width;
    double baseline = rect.top() + metrics.ascent();
    if (alignment.testFlag(Qt::AlignVCenter)) baseline = rect.center().y() + 0.5 * metrics.capHeight();
    if (alignment.testFlag(Qt::AlignBottom)) baseline = rect.bottom() - metrics.descent();
    for (const QChar c : text) {
        const double cell = cellWidth(metrics, c, digit);
        painter.drawText(QPointF(x + 0.5 * (cell - metrics.horizontalAdvance(c)), baseline), QString(c));
        x += cell;
    }
}

void strokeLine(QPainter& painter, const QPen& pen, QPointF from, QPointF to) {
    painter.setPen(pen);
    painter.drawLine(from, to);
}

void setInk(QPainter& painter, const QFont& font, const QColor& color) {
    painter.setFont(font);
    painter.setPen(color);
}

void fillRounded(QPainter& painter, const QRectF& rect, double radius, const QBrush& brush) {
    painter.setPen(Qt::NoPen);
    painter.setBrush(brush);
    painter.drawRoundedRect(rect, radius, radius);
}

QString figure(double value, int decimals) {
    if (!std::isfinite(value)) return QStringLiteral("–");
    QString text = QString::number(value, 'f', decimals);
    const bool negative = text.startsWith(QLatin1Char('-'));
    if (negative) text.remove(0, 1);
    const bool zero = text.toDouble() == 0.0;
    const qsizetype whole = text.indexOf(QLatin1Char('.')) < 0 ? text.size() : text.indexOf(QLatin1Char('.'));
    // ISO 80000-1, 7.3.1: groups of three parted by a small space; not within four digits.
    if (whole > 4) {
        for (qsizetype at = whole - 3; at > 0; at -= 3)
            text.insert(at, QChar(0x202F));
    }
    return negative && !zero ? QChar(0x2212) + text : text;
}

void drawHatch(QPainter& painter, const QRectF& rect, const QColor& color) {
    if (rect.isEmpty()) return;
    constexpr double spacing = 7.0;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(color, 1.0));
    // Lines x + y = sum stand on a grid of the surface, not of the rectangle: they do not crawl when it grows.
    // Cut here, not by a clip: drawings in files know no clip.
    const double first = std::ceil((rect.left() + rect.top()) / spacing) * spacing;
    const int lines = static_cast<int>(std::ceil((rect.right() + rect.bottom() - first) / spacing));
    for (int i = 0; i < lines; ++i) {
        const double sum = first + i * spacing;
        const double top = std::max(rect.top(), sum - rect.right());
        const double bottom = std::min(rect.bottom(), sum - rect.left());
        painter.drawLine(QPointF(sum - top, top), QPointF(sum - bottom, bottom));
    }
    painter.restore();
}

} // namespace rw
