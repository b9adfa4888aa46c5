// Long work under way: what it is, how far it is, how to stop it. The foot of the window shows it.
#pragma once

#include <QObject>
#include <QString>

#include <functional>
#include <vector>

namespace rw {

class Jobs : public QObject {
    Q_OBJECT
public:
    struct Job {
        int id = 0;
        QString text;
        double share = -1.0; // 0..1; negative: not known
        std::function<void()> stop;
    };

    using QObject::QObject;

    // Interface thread only, as all of this class. stop is called at most once, when the person asks.
    int begin(const QString& text, std::function<void()> stop);
    void progress(int id, double share);
    void end(int id); // done, stopped or failed; unknown ids are ignored
    void stop(int id);

    [[nodiscard]] const std::vector<Job>& running() const { return jobs_; }

signals:
    void changed();

private:
    std::vector<Job> jobs_;
    int last_ = 0;
};

} // namespace rw
