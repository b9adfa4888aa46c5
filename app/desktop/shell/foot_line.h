// The line at the foot of the window: what was just done, and long work with its progress and a way to stop it.
#pragma once

#include <QString>
#include <QWidget>

class QProgressBar;
class QPushButton;

namespace rw {

class Jobs;
class ShortLabel;
class TextLabel;

class FootLine : public QWidget {
    Q_OBJECT
public:
    explicit FootLine(Jobs& jobs, QWidget* parent = nullptr);
    void say(const QString& sentence);

private:
    void showJobs();

    Jobs& jobs_;
    ShortLabel* said_ = nullptr;
    QWidget* work_ = nullptr;
    TextLabel* workText_ = nullptr;
    QProgressBar* bar_ = nullptr;
    QPushButton* stop_ = nullptr;
    int shownJob_ = 0;
};

} // namespace rw
