#include "plotting/look.h"

#include <gtest/gtest.h>

#include <QFontMetricsF>
#include <QImage>
#include <QPainter>

#include <cmath>

namespace {

// Relative luminance and contrast ratio as defined in WCAG 2.1, "Terms": relative luminance, contrast ratio.
double luminance(const QColor& color) {
    const auto linear = [](double c) { return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(color.redF()) + 0.7152 * linear(color.greenF()) + 0.0722 * linear(color.blueF());
}

double contrast(const QColor& a, const QColor& b) {
    const double x = luminance(a);
    const double y = luminance(b);
    return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

} // namespace

TEST(Look, textHasTheContrastThatWcag21Asks) {
    // Success criterion 1.4.3: 4.5 : 1 for text; 1.4.11: 3 : 1 for graphics needed to understand.
    for (const rw::Look& look : {rw::Look::light(), rw::Look::night()}) {
        for (const QColor& under : {look.ground, look.sheet}) {
            for (const QColor& text : {look.ink, look.soft, look.accent, look.warn, look.bad}) {
                EXPECT_GE(contrast(text, under), 4.5) << text.name().toStdString() << (look.dark ? " dark" : " light");
            }
            for (int i = 0; i < static_cast<int>(rw::Hue::Count_); ++i) {
                EXPECT_GE(contrast(look.series(i), under), 3.0) << i << (look.dark ? " dark" : " light");
            }
        }
        EXPECT_GE(contrast(look.ink, look.wash), 4.5);
    }
}

TEST(Look, followsThePalette) {
    EXPECT_TRUE(rw::Look::of(rw::Look::night().palette()).dark);
    EXPECT_FALSE(rw::Look::of(rw::Look::light().palette()).dark);
}

TEST(Figure, writesNumbersForPeople) {
    EXPECT_EQ(rw::figure(45200.0, 0), QStringLiteral("45\u202F200"));
    EXPECT_EQ(rw::figure(1003.0, 0), QStringLiteral("1003"));
    EXPECT_EQ(rw::figure(-3.25, 2), QStringLiteral("\u22123.25"));
    EXPECT_EQ(rw::figure(-0.001, 1), QStringLiteral("0.0"));
    EXPECT_EQ(rw::figure(std::nan(""), 1), QStringLiteral("–"));
    EXPECT_EQ(rw::figure(1234567.5, 1), QStringLiteral("1\u202F234\u202F567.5"));
}

TEST(Figures, haveOneWidthPerDigit) {
    const QFont font = rw::font(rw::Type::Body);
    EXPECT_DOUBLE_EQ(rw::figuresWidth(font, QStringLiteral("111.1")), rw::figuresWidth(font, QStringLiteral("888.8")));
}

TEST(Hatch, staysInsideItsRectangleWithoutAClip) {
    QImage image(60, 60, QImage::Format_ARGB32);
    image.fill(Qt::white);
    {
        QPainter painter(&image);
        rw::drawHatch(painter, QRectF(20, 15, 20, 25), Qt::black);
    }
    int inside = 0;
    for (int y = 0; y < 60; ++y) {
        for (int x = 0; x < 60; ++x) {
            const bool dark = image.pixelColor(x, y) != QColor(Qt::white);
            if (x < 18 || x > 41 || y < 13 || y > 41) {
                ASSERT_FALSE(dark) << x << ", " << y;
            }
            inside += dark ? 1 : 0;
        }
    }
    EXPECT_GT(inside, 50);
}
