// Changes on the bench that are not kept survive the end of the program, however it ends: a small file in the
// platform's state folder holds them while there are any, and the next start puts them back on the bench.
#pragma once

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/jobs.h"

#include <QLockFile>
#include <QObject>
#include <QString>
#include <QTimer>

#include <memory>
#include <optional>

namespace rw {

class PlanSession;

class BenchRecovery : public QObject {
    Q_OBJECT
public:
    explicit BenchRecovery(PlanSession& session);
    ~BenchRecovery() override;

    // Puts what an earlier run left on an empty bench, as a change that can be undone; says how much came back.
    void restore();
    void forget(); // the person gave the changes up
    [[nodiscard]] bool busy() const { return soon_.isActive() || worker_->busy(); }
    [[nodiscard]] QString file() const { return file_; } // "": no folder to write to

private:
    struct Left {
        BenchContent content; // as kept
        PlanInput input;      // as changed
    };
    [[nodiscard]] std::optional<Left> read() const;
    void takeSlot();
    void writeSoon();
    void write();

    PlanSession& session_;
    std::unique_ptr<QLockFile> lock_; // two programs at once keep their files apart
    QString file_;
    QTimer soon_;
    bool forgotten_ = false;
    std::unique_ptr<LatestWorker<bool>> worker_;
};

} // namespace rw
