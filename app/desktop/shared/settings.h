// What is remembered between runs: one typed object over the platform's settings, passed in, never global.
#pragma once

#include "app/desktop/shared/units.h"

#include <QByteArray>
#include <QObject>
#include <QSettings>
#include <QString>
#include <QStringList>

namespace rw {

enum class Appearance { Desktop, Light, Dark }; // Desktop: follow what the desktop says

class Settings : public QObject {
    Q_OBJECT
public:
    // fileName empty: the platform's own place; else an INI file (tests, pictures).
    explicit Settings(const QString& fileName = {}, QObject* parent = nullptr);

    [[nodiscard]] Appearance appearance() const;
    void setAppearance(Appearance appearance);

    [[nodiscard]] QString garageFile() const; // empty: none chosen yet
    void setGarageFile(const QString& path) { store_.setValue(QStringLiteral("garage"), path); }

    [[nodiscard]] QStringList recentFiles() const; // newest first, at most ten
    void addRecentFile(const QString& path);
    void clearRecentFiles();

    [[nodiscard]] QByteArray state(const QString& name) const; // window geometry, a workspace's layout
    void setState(const QString& name, const QByteArray& state);
    [[nodiscard]] QString text(const QString& name) const; // small choices: last folder, last setup
    void setText(const QString& name, const QString& text);

    // Where a run leaves what the next one takes up, besides settings: the platform's folder for state; "" if none.
    [[nodiscard]] QString stateFolder() const;

    void load(Units& units) const; // sets the switch and
    void follow(Units& units);     // keeps what is chosen from then on

signals:
    void appearanceChanged();
    void recentFilesChanged();

private:
    QSettings store_;
    bool ownFile_ = false; // of tests and pictures: their state stays beside it
};

} // namespace rw
