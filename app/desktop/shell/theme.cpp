#include "app/desktop/shell/theme.h"

#include "app/desktop/shell/house_style.h"

#include <QApplication>
#include <QDBusConnection>
#include <QDBusMessage>
#include <QDBusPendingCallWatcher>
#include <QDBusPendingReply>
#include <QDBusVariant>

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

} // namespace

Theme::Theme(QApplication& application, Settings& settings, QObject* parent)
    : QObject(parent)
    , application_(application)
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

} // namespace rw
