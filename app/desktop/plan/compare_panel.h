// Two plans side by side: what they expect and in what they differ. The other one lies dashed in the speed chart.
#pragma once

#include <QWidget>

class QToolButton;

namespace rw {

class PlanSession;
class TextLabel;
class ValueTable;

class ComparePanel : public QWidget {
    Q_OBJECT
public:
    explicit ComparePanel(PlanSession& session);
    [[nodiscard]] ValueTable& table() { return *table_; }

    void compareWithKept();
    void compareWithFile(const QString& path);
    void compareWithRevision(const QString& setupId); // at the venue of the bench

private:
    void askForFile();
    void askForRevision();
    void askForKeptPlan();
    void draw();

    PlanSession& session_;
    TextLabel* note_ = nullptr;
    QToolButton* end_ = nullptr;
    ValueTable* table_ = nullptr;
};

} // namespace rw
