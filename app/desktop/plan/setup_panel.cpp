#include "app/desktop/plan/setup_panel.h"

#include "app/desktop/plan/field_card.h"
#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/pack_choice.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/fold.h"
#include "app/desktop/shared/labels.h"

#include <QDataStream>
#include <QIODevice>
#include <QScrollArea>
#include <QScrollBar>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

const QStringList openAtFirst{QStringLiteral("course"), QStringLiteral("gearing"), QStringLiteral("motor"),
                              QStringLiteral("pack")};

constexpr int roomForCard = 56 * gridStep; // lower than this, the card keeps its words to itself

// Where the focus would go from a widget by Tab.
QWidget* tabStop(QWidget& from, bool next) {
    const auto step = [next](QWidget* at) { return next ? at->nextInFocusChain() : at->previousInFocusChain(); };
    for (QWidget* at = step(&from); at != &from; at = step(at))
        if ((at->focusPolicy() & Qt::TabFocus) != 0 && at->isEnabled() && at->isVisibleTo(from.window())) return at;
    return &from;
}

QVBoxLayout* tightColumn(QWidget* parent) {
    auto* column = new QVBoxLayout(parent);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    return column;
}

} // namespace

SetupPanel::SetupPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session) {
    auto* outer = tightColumn(this);
    outer->setContentsMargins(20, 2 * gridStep, 0, gridStep);
    outer->addWidget(new TextLabel(tr("On the bench"), Type::Heading));
    outer->addSpacing(gridStep / 2);
    auto* inside = new QWidget;
    auto* column = tightColumn(inside);
    column->setContentsMargins(0, 0, gridStep, 0);
    for (const FieldGroup& fields : fieldGroups())
        addGroup(fields, *column);
    column->addStretch();
    area_ = new QScrollArea;
    area_->setWidgetResizable(true);
    area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
    area_->setFocusPolicy(Qt::NoFocus);
    area_->setWidget(inside);
    outer->addWidget(area_, 1);
    outer->addSpacing(gridStep / 2);
    auto* ruled = thinRule(Qt::Horizontal);
    outer->addWidget(ruled);
    card_ = new FieldCard(session_);
    auto* cardRow = new QHBoxLayout;
    cardRow->setContentsMargins(0, 0, 2 * gridStep, 0);
    cardRow->addWidget(card_);
    outer->addLayout(cardRow);

    connect(card_, &FieldCard::uncertaintyLeft, this, &SetupPanel::leaveUncertainty);
    connect(card_, &FieldCard::valueWanted, this, [this](const PlanField* field) { leaveUncertainty(field, false); });
    for (Group& group : groups_)
        if (openAtFirst.contains(group.fields->name)) group.head->setChecked(true);
    connect(&session_, &PlanSession::inputChanged, this, &SetupPanel::refresh);
    connect(&session_, &PlanSession::keptChanged, this, &SetupPanel::refresh);
    connect(&session_, &PlanSession::outcomeChanged, this, &SetupPanel::summarise);
    connect(&session_.desk().units, &Units::changed, this, &SetupPanel::refresh);
    connect(&session_.desk().bench, &Bench::changed, card_, &FieldCard::refresh);
    refresh();
}

void SetupPanel::addGroup(const FieldGroup& fields, QVBoxLayout& column) {
    Group group;
    group.fields = &fields;
    group.head = new FoldHead(fields.title, false);
    group.body = new QWidget;
    (void)tightColumn(group.body);
    group.body->hide();
    column.addWidget(group.head);
    column.addWidget(group.body);
    const std::size_t index = groups_.size();
    groups_.push_back(group);
    connect(group.head, &FoldHead::toggled, this, [this, index](bool open) {
        fill(groups_[index]);
        groups_[index].body->setVisible(open);
    });
}

// Rows are made when their group is first opened: most stay folded.
void SetupPanel::fill(Group& group) {
    auto* column = static_cast<QVBoxLayout*>(group.body->layout());
    if (column->count() > 0) return;
    if (group.fields->name == QLatin1String("pack")) addPackRow(*column);
    addRows(group.fields->fields, *column);
    if (!group.fields->more.empty()) {
        group.moreHead = new FoldHead(tr("%1 more").arg(group.fields->more.size()), true);
        group.moreBody = new QWidget;
        (void)tightColumn(group.moreBody);
        group.moreBody->hide();
        column->addWidget(group.moreHead);
        column->addWidget(group.moreBody);
        const auto index = static_cast<std::size_t>(&group - groups_.data());
        connect(group.moreHead, &FoldHead::toggled, this, [this, index](bool open) {
            fillMore(groups_[index]);
            groups_[index].moreBody->setVisible(open);
        });
    }
    column->addSpacing(gridStep);
}

void SetupPanel::fillMore(Group& group) {
    auto* column = static_cast<QVBoxLayout*>(group.moreBody->layout());
    if (column->count() == 0) addRows(group.fields->more, *column);
}

void SetupPanel::addPackRow(QVBoxLayout& column) {
    auto* row = new QHBoxLayout;
    row->setContentsMargins(0, 2, 0, 2);
    row->addWidget(new TextLabel(tr("in the car")));
    row->addWidget(new PackChoice(session_), 1);
    column.addLayout(row);
}

void SetupPanel::addRows(const std::vector<const PlanField*>& fields, QVBoxLayout& column) {
    for (const PlanField* field : fields) {
        auto* row = new FieldRow(session_, *field);
        connect(row, &FieldRow::entered, card_, &FieldCard::show);
        connect(row, &FieldRow::uncertaintyWanted, card_,
                [this](const PlanField* one) { card_->editUncertainty(*one); });
        if (auto* edit = qobject_cast<FieldEdit*>(row->editor()))
            edit->setTabWay([this, row](bool next) { return tabFrom(*row, next); });
        column.addWidget(row);
        rows_.push_back(row);
    }
}

FieldRow* SetupPanel::row(const QString& key) const {
    const std::string wanted = key.toStdString();
    const auto found =
        std::find_if(rows_.begin(), rows_.end(), [&](const FieldRow* row) { return row->field().key() == wanted; });
    return found == rows_.end() ? nullptr : *found;
}

// Value, its ±, the next value: the way of the Tab key, though the ± stands on the card.
bool SetupPanel::tabFrom(FieldRow& row, bool next) {
    if (next) {
        if (!card_->hasUncertainty(row.field())) return false;
        card_->editUncertainty(row.field());
        return true;
    }
    const QWidget* before = tabStop(*row.editor(), false);
    const auto found =
        std::find_if(rows_.begin(), rows_.end(), [before](const FieldRow* one) { return one->editor() == before; });
    if (found == rows_.end() || !card_->hasUncertainty((*found)->field())) return false;
    area_->ensureWidgetVisible(*found);
    card_->editUncertainty((*found)->field());
    return true;
}

void SetupPanel::leaveUncertainty(const PlanField* field, bool next) {
    FieldRow* from = row(QString::fromStdString(field->key()));
    if (!from) return;
    goTo(next ? tabStop(*from->editor(), true) : from->editor());
}

void SetupPanel::goTo(QWidget* widget) {
    if (area_->widget()->isAncestorOf(widget)) area_->ensureWidgetVisible(widget);
    widget->setFocus(Qt::TabFocusReason);
}

void SetupPanel::editUncertainty() {
    const PlanField* field = card_->field();
    if (!field || !card_->hasUncertainty(*field)) field = rows_.empty() ? nullptr : &rows_.front()->field();
    if (field) card_->editUncertainty(*field);
}

// In a low window the fields need the room more than the card's words, which are in the tool tips too.
void SetupPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    card_->setRoomForText(height() >= roomForCard);
}

void SetupPanel::openAll() {
    for (Group& group : groups_)
        group.head->setChecked(true);
}

void SetupPanel::reveal(const QString& key) {
    const std::string wanted = key.toStdString();
    const auto holds = [&wanted](const std::vector<const PlanField*>& fields) {
        return std::any_of(fields.begin(), fields.end(),
                           [&wanted](const PlanField* field) { return field->key() == wanted; });
    };
    for (Group& group : groups_) {
        const bool inMore = holds(group.fields->more);
        if (!inMore && !holds(group.fields->fields)) continue;
        group.head->setChecked(true);
        if (inMore) group.moreHead->setChecked(true);
        FieldRow* found = row(key);
        area_->widget()->layout()->activate();
        area_->ensureWidgetVisible(found, 0, 4 * gridStep);
        found->editor()->setFocus(Qt::OtherFocusReason);
    }
}

void SetupPanel::refresh() {
    setEnabled(!session_.empty());
    for (FieldRow* row : rows_)
        row->refresh();
    card_->refresh();
    summarise();
}

void SetupPanel::summarise() {
    for (Group& group : groups_)
        group.head->setSummary(session_.empty() ? QString() : groupSummary(group.fields->name, session_));
}

QByteArray SetupPanel::saveState() const {
    QStringList open;
    for (const Group& group : groups_) {
        if (group.head->isChecked()) open << group.fields->name;
        if (group.moreHead && group.moreHead->isChecked()) open << group.fields->name + QStringLiteral("+");
    }
    return open.join(u' ').toUtf8();
}

void SetupPanel::restoreState(const QByteArray& state) {
    const QStringList open = QString::fromUtf8(state).split(u' ');
    for (Group& group : groups_) {
        group.head->setChecked(open.contains(group.fields->name));
        if (open.contains(group.fields->name + QStringLiteral("+")) && group.moreHead) group.moreHead->setChecked(true);
    }
}

} // namespace rw
