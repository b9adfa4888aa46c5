// Light or dark for the whole program: style, palette, fonts and the few rules that a palette cannot say.
#pragma once

#include "app/desktop/shared/settings.h"
#include "plotting/look.h"

#include <QObject>
#include <QProxyStyle>

class QApplication;
class QDBusVariant;

namespace rw {

// Sets the application's look from the settings and the desktop, and keeps it so when either changes.
class Theme : public QObject {
    Q_OBJECT
public:
    Theme(QApplication& application, Settings& settings);

    [[nodiscard]] bool dark() const { return dark_; }
    // Set directly, for pictures: neither settings nor desktop are asked again.
    void force(bool dark);

private slots:
    void portalSettingChanged(const QString& space, const QString& key, const QDBusVariant& value);

private:
    void askPortal();
    void follow();
    void apply(bool dark);

    QApplication& application_;
    Settings& settings_;
    bool desktopDark_ = false, dark_ = false, applied_ = false, forced_ = false;
};

// The style sheet for a look, tested for being readable by Qt.
[[nodiscard]] QString styleSheet(const Look& look);

// Fusion with what neither palette nor style sheet can say: a focus that is seen on every control, check boxes that
// stand out from either ground, and dialog buttons that are words alone.
class HouseStyle : public QProxyStyle {
public:
    HouseStyle();
    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override;
    int styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                  QStyleHintReturn* returned) const override;
};

} // namespace rw
