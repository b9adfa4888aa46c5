// The Review workspace: ribbon and lanes in the middle, findings and passes right.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/workspace.h"

#include <QString>

#include <memory>

namespace rw {

class ReviewActions;
class ReviewDesk;

class ReviewWorkspace : public Workspace {
    Q_OBJECT
public:
    explicit ReviewWorkspace(const Desk& desk, QObject* parent = nullptr);
    ~ReviewWorkspace() override;

    [[nodiscard]] QString document() const override;
    // Text logs, tracks of measured speed, and the ids of kept logs and passes ("log-12", "pass-7").
    [[nodiscard]] Fit fits(const QString& path) const override;
    void openFiles(const QStringList& paths) override;
    [[nodiscard]] QByteArray saveState() const override;
    void restoreState(const QByteArray& state) override;
    [[nodiscard]] bool busy() const override;
    [[nodiscard]] QList<Scene> scenes() override;

    [[nodiscard]] ReviewDesk& review() { return *review_; }
    [[nodiscard]] ReviewActions& reviewActions() { return *actions_; }

private:
    struct Parts;
    void makePages();
    void makeEmptyPage();
    void connectAll();
    void showPage();
    void openSomething(); // for pictures: a log from the garage, where none is open

    Desk desk_;
    std::unique_ptr<QUndoStack> steps_;
    std::unique_ptr<ReviewDesk> review_;
    std::unique_ptr<Parts> parts_;
    std::unique_ptr<ReviewActions> actions_;
};

// What a dropped file may be, told by its content before its name.
enum class LogFileKind { Log, PerhapsLog, Track, Other };
[[nodiscard]] LogFileKind logFileKind(const QString& path);

} // namespace rw
