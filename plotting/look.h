// How the workbench looks: the one place for colours, type and spacing of charts, pages and widgets.
// One neutral ground, one accent, an 8 px grid. Text on ground and sheet keeps a contrast of 4.5 : 1 or more
// (WCAG 2.1, 1.4.3), lines 3 : 1 (1.4.11); tests/plotting shows both.
#pragma once

#include <QColor>
#include <QFont>
#include <QPalette>

class QBrush;
class QPainter;
class QPen;
class QPointF;
class QRectF;
class QString;
class QWidget;

namespace rw {

// Logical pixels; everything is a multiple of half a step.
inline constexpr int gridStep = 8;

// A quantity has one colour everywhere: chart, table, report. Okabe–Ito set
// (M. Okabe, K. Ito, "Color Universal Design", 2008), darkened or lightened until a line stands out from its ground.
enum class Hue { Speed, Current, Output, Voltage, MotorHeat, ControllerHeat, PackHeat, Power, Count_ };

struct Look {
    bool dark = false;
    QColor ground; // behind everything
    QColor sheet;  // bars, fields, menus: one step nearer
    QColor ink;    // text
    QColor soft;   // units, axis numbers, second lines
    QColor rule;   // thin dividers, grid
    QColor accent; // what is chosen, what can be pressed
    QColor wash;   // behind what is chosen
    QColor warn;   // watch
    QColor bad;    // act; never the only sign: say it in words too

    [[nodiscard]] QColor hue(Hue which) const;
    // The same eight by index, for series without a quantity (passes laid over each other); wraps round.
    [[nodiscard]] QColor series(int index) const;
    // Palette for QApplication::setPalette under the Fusion style.
    [[nodiscard]] QPalette palette() const;

    [[nodiscard]] static const Look& light();
    [[nodiscard]] static const Look& night();
    // The look that fits a palette: dark where its text is light.
    // Widgets ask again on QEvent::PaletteChange, so switching the application's palette switches all.
    [[nodiscard]] static const Look& of(const QPalette& palette);
    [[nodiscard]] static const Look& of(const QWidget* widget);
};

// Type roles, sized from the application's font (see baseFont).
enum class Type {
    Body,
    Strong,  // body, semibold: names of lanes, chosen rows
    Heading, // words of the job over a panel
    Small,   // axis numbers, units, second lines
    SmallStrong,
    Figure // the large figures of the bench strip
};

// Inter at 10 pt where installed, else the desktop's font, for QApplication::setFont.
[[nodiscard]] QFont baseFont();
[[nodiscard]] QFont font(Type role);

// Tabular figures. Qt before 6.7 cannot ask a font for them, so digits are placed in cells of one width.
// drawFigures draws one line of text within the rectangle (horizontal and vertical Qt::Alignment).
[[nodiscard]] double figuresWidth(const QFont& font, const QString& text);
void drawFigures(QPainter& painter, const QRectF& rect, Qt::Alignment alignment, const QString& text);

// Type and colour of the words that are drawn next.
void strokeLine(QPainter& painter, const QPen& pen, QPointF from, QPointF to);
void setInk(QPainter& painter, const QFont& font, const QColor& color);
inline void setInk(QPainter& painter, Type role, const QColor& color) { setInk(painter, font(role), color); }
// A filled shape with round corners and no outline.
void fillRounded(QPainter& painter, const QRectF& rect, double radius, const QBrush& brush);

// A number for people: given decimals, true minus sign, group spaces from five digits ("45 200"), "–" for NaN.
[[nodiscard]] QString figure(double value, int decimals);

// Diagonal lines that mark a forbidden band without relying on colour; lines, so crisp at any scale and in files.
void drawHatch(QPainter& painter, const QRectF& rect, const QColor& color);

} // namespace rw
