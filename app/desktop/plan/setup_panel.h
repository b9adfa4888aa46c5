// The left side: the setup on the bench in fold-out groups, and a card on the field in hand.
#pragma once

#include "core/plan/plan_fields.h"

#include <QByteArray>
#include <QComboBox>
#include <QWidget>

#include <vector>

class QScrollArea;
class QVBoxLayout;

namespace rw {

class FieldCard;
class FieldRow;
class FoldHead;
class PlanSession;
struct FieldGroup;

class SetupPanel : public QWidget {
    Q_OBJECT
public:
    explicit SetupPanel(PlanSession& session);

    [[nodiscard]] FieldRow* row(const QString& key) const; // null: no such field, or still folded away and not made
    void openAll();
    void reveal(const QString& key); // unfolds, scrolls to and focuses a field
    void editUncertainty();          // of the field in hand; of the first where none is
    [[nodiscard]] QByteArray saveState() const;
    void restoreState(const QByteArray& state);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    struct Group {
        const FieldGroup* fields = nullptr;
        FoldHead* head = nullptr;
        QWidget* body = nullptr;
        FoldHead* moreHead = nullptr;
        QWidget* moreBody = nullptr;
    };
    void addGroup(const FieldGroup& fields, QVBoxLayout& column);
    void fill(Group& group);
    void addRows(const std::vector<const PlanField*>& fields, QVBoxLayout& column);
    [[nodiscard]] bool tabFrom(FieldRow& row, bool next);
    void leaveUncertainty(const PlanField* field, bool next);
    void goTo(QWidget* widget);
    void refresh();
    void summarise();

    PlanSession& session_;
    QScrollArea* area_ = nullptr;
    FieldCard* card_ = nullptr;
    std::vector<Group> groups_;
    std::vector<FieldRow*> rows_;
};

// What a folded group says of itself: "2S2P, 5.0 Ah".
[[nodiscard]] QString groupSummary(const QString& group, const PlanSession& session);

// Which pack lies in the car: one step takes another one of the garage, with all its values.
class PackChoice : public QComboBox {
    Q_OBJECT
public:
    explicit PackChoice(PlanSession& session);
    // Puts a pack of the garage into the car as one step of undo; where both packs' masses are known the vehicle's
    // changes with them.
    void take(const QString& packId);

private:
    void fill();

    PlanSession& session_;
};

} // namespace rw
