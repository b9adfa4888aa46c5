#include "app/desktop/shell/theme.h"

#include "plotting/look.h"

#include <QApplication>
#include <QDBusConnection>
#include <QDBusMessage>
#include <QDBusPendingCallWatcher>
#include <QDBusPendingReply>
#include <QDBusVariant>
#include <QPainter>
#include <QPushButton>
#include <QStyleFactory>
#include <QStyleOption>
#include <QToolButton>

#include <algorithm>

namespace rw {

namespace {

const QString portalService = QStringLiteral("org.freedesktop.portal.Desktop");
const QString portalPath = QStringLiteral("/org/freedesktop/portal/desktop");
const QString portalInterface = QStringLiteral("org.freedesktop.portal.Settings");
const QString appearanceSpace = QStringLiteral("org.freedesktop.appearance");
const QString schemeKey = QStringLiteral("color-scheme");
constexpr uint preferDark = 1; // 0 no preference, 2 prefer light

bool isDark(const QPalette& palette) {
    return palette.color(QPalette::Window).lightnessF() < palette.color(QPalette::WindowText).lightnessF();
}

uint schemeIn(QVariant value) {
    while (value.canConvert<QDBusVariant>())
        value = value.value<QDBusVariant>().variant();
    return value.toUInt();
}

void drawFocus(QPainter& painter, const QStyleOption& option) {
    constexpr double radius = 3.0;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::of(option.palette).accent, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), radius, radius);
    painter.restore();
}

// Fusion derives the frame of a check box from the ground, and it vanishes where both are light.
void drawCheck(QPainter& painter, const QStyleOption& option) {
    const Look& look = Look::of(option.palette);
    const bool enabled = option.state.testFlag(QStyle::State_Enabled);
    const bool ticked = option.state.testFlag(QStyle::State_On);
    const double side = std::min({option.rect.width(), option.rect.height(), 15});
    QRectF box(0.0, 0.0, side - 1.0, side - 1.0);
    box.moveCenter(QRectF(option.rect).center());
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(ticked && enabled ? look.accent : look.soft, 1.25));
    painter.setBrush(ticked && enabled ? look.accent : look.sheet);
    painter.drawRoundedRect(box, 2.5, 2.5);
    painter.setPen(QPen(enabled ? (look.dark ? look.ground : look.sheet) : look.soft, 1.75, Qt::SolidLine, Qt::RoundCap,
                        Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    const auto at = [&box](double x, double y) {
        return QPointF(box.left() + x * box.width(), box.top() + y * box.height());
    };
    if (ticked)
        painter.drawPolyline(QPolygonF({at(0.24, 0.54), at(0.43, 0.73), at(0.78, 0.30)}));
    else if (option.state.testFlag(QStyle::State_NoChange))
        painter.drawLine(at(0.25, 0.5), at(0.75, 0.5));
    painter.restore();
}

} // namespace

Theme::Theme(QApplication& application, Settings& settings)
    : application_(application)
    , settings_(settings)
    , desktopDark_(isDark(application.palette())) {
    application_.setStyle(new HouseStyle);
    application_.setFont(baseFont());
    connect(&settings_, &Settings::appearanceChanged, this, &Theme::follow);
    follow();
    askPortal();
}

void Theme::force(bool dark) {
    forced_ = true;
    apply(dark);
}

// The desktop's own palette tells at start; changes while running come from the desktop's settings portal.
void Theme::askPortal() {
    QDBusConnection bus = QDBusConnection::sessionBus();
    if (!bus.isConnected()) return;
    bus.connect(portalService, portalPath, portalInterface, QStringLiteral("SettingChanged"), this,
                SLOT(portalSettingChanged(QString, QString, QDBusVariant)));
    QDBusMessage call =
        QDBusMessage::createMethodCall(portalService, portalPath, portalInterface, QStringLiteral("Read"));
    call << appearanceSpace << schemeKey;
    auto* watcher = new QDBusPendingCallWatcher(bus.asyncCall(call), this);
    connect(watcher, &QDBusPendingCallWatcher::finished, this, [this](QDBusPendingCallWatcher* done) {
        const QDBusPendingReply<QDBusVariant> reply = *done;
        if (reply.isValid()) portalSettingChanged(appearanceSpace, schemeKey, reply.value());
        done->deleteLater();
    });
}

void Theme::portalSettingChanged(const QString& space, const QString& key, const QDBusVariant& value) {
    if (space != appearanceSpace || key != schemeKey) return;
    desktopDark_ = schemeIn(value.variant()) == preferDark;
    follow();
}

void Theme::follow() {
    if (forced_) return;
    const Appearance wanted = settings_.appearance();
    apply(wanted == Appearance::Dark || (wanted == Appearance::Desktop && desktopDark_));
}

void Theme::apply(bool dark) {
    if (applied_ && dark == dark_) return;
    applied_ = true;
    dark_ = dark;
    const Look& look = dark ? Look::night() : Look::light();
    application_.setPalette(look.palette());
    application_.setStyleSheet(styleSheet(look));
}

HouseStyle::HouseStyle()
    : QProxyStyle(QStyleFactory::create(QStringLiteral("Fusion"))) {}

void HouseStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                               const QWidget* widget) const {
    if (element == PE_IndicatorCheckBox || element == PE_IndicatorItemViewItemCheck)
        return drawCheck(*painter, *option);
    if (element != PE_FrameFocusRect) return QProxyStyle::drawPrimitive(element, option, painter, widget);
    // The style sheet colours the whole frame of a button: a second one inside it would be too much.
    const bool framed =
        qobject_cast<const QPushButton*>(widget) != nullptr || qobject_cast<const QToolButton*>(widget) != nullptr;
    if (!framed) drawFocus(*painter, *option);
}

void HouseStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                                    const QWidget* widget) const {
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    const bool field = control == CC_ComboBox || control == CC_SpinBox;
    if (field && option->state.testFlag(State_HasFocus)) drawFocus(*painter, *option);
}

int HouseStyle::styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                          QStyleHintReturn* returned) const {
    if (hint == SH_DialogButtonBox_ButtonsHaveIcons) return 0;
    return QProxyStyle::styleHint(hint, option, widget, returned);
}

} // namespace rw
