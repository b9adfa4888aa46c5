#include "app/desktop/plan/setup_panel.h"

#include "app/desktop/plan/field_card.h"
#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QCoreApplication>

#include <algorithm>
#include <utility>

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

QWidget* folded() {
    auto* body = new QWidget;
    (void)columnIn(body, 0);
    body->hide();
    return body;
}

QString tr(const char* text) { return QCoreApplication::translate("summary", text); }

QString courseSummary(const PlanInput& in, const Units& units, const PlanOutcome* outcome) {
    if (!outcome) return units.text(Dimension::Distance, in.venue.length_m);
    return tr("air %1").arg(units.text(Dimension::Density, outcome->result.airDensity));
}

QString controllerSummary(const PlanInput& in) {
    if (in.controller.cutoff.mode == CutoffMode::Off || !in.controller.cutoff.cell_V) return tr("cutoff off");
    const QString mode = in.controller.cutoff.mode == CutoffMode::Soft ? tr("soft cutoff") : tr("hard cutoff");
    return tr("%1 %2 V a cell").arg(mode).arg(*in.controller.cutoff.cell_V, 0, 'f', 2);
}

QString drivenSummary(DrivenAxle axle) {
    switch (axle) {
    case DrivenAxle::Front:
        return tr("front drive");
    case DrivenAxle::Rear:
        return tr("rear drive");
    case DrivenAxle::All:
        break;
    }
    return tr("all-wheel drive");
}

QString packSummary(const PlanInput& in) {
    const QString cells =
        in.pack.parallel > 1 ? tr("%1S%2P").arg(in.pack.series).arg(in.pack.parallel) : tr("%1S").arg(in.pack.series);
    return tr("%1, %2 Ah").arg(cells).arg(in.pack.capacity_Ah, 0, 'f', 1);
}

} // namespace

SetupPanel::SetupPanel(PlanSession& session)
    : session_(session) {
    auto* inside = new QWidget;
    auto* column = columnIn(inside, 0, {0, 0, gridStep, 0});
    for (const FieldGroup& fields : fieldGroups())
        addGroup(fields, *column);
    column->addStretch();
    area_ = scrolled(inside);
    area_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
    card_ = new FieldCard(session_);
    lay(*columnIn(this, 0, {20, 2 * gridStep, 0, gridStep}),
        {new TextLabel(tr("On the bench"), Type::Heading), gap(gridStep / 2), grow(area_), gap(gridStep / 2),
         thinRule(), laid(rowIn(nullptr, usualSpacing, {0, 0, 2 * gridStep, 0}), {card_})});
    connect(card_, &FieldCard::uncertaintyLeft, this, &SetupPanel::leaveUncertainty);
    connect(card_, &FieldCard::valueWanted, this, [this](const PlanField* field) { leaveUncertainty(field, false); });
    for (Group& group : groups_)
        if (openAtFirst.contains(group.fields->name)) group.head->setChecked(true);
    connect(&session_, &PlanSession::inputChanged, this, &SetupPanel::refresh);
    connect(&session_, &PlanSession::keptChanged, this, &SetupPanel::refresh);
    connect(&session_, &PlanSession::outcomeChanged, this, &SetupPanel::summarise);
    connect(&session_.units(), &Units::changed, this, &SetupPanel::refresh);
    connect(&session_.desk().bench, &Bench::changed, card_, &FieldCard::refresh);
    refresh();
}

void SetupPanel::addGroup(const FieldGroup& fields, QVBoxLayout& column) {
    Group group;
    group.fields = &fields;
    group.head = new FoldHead(fields.title, false);
    group.body = folded();
    lay(column, {group.head, group.body});
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
    if (group.fields->name == QLatin1String("pack"))
        column->addLayout(laid(rowIn(nullptr, usualSpacing, {0, 2, 0, 2}),
                               {new TextLabel(tr("in the car")), grow(new PackChoice(session_))}));
    addRows(group.fields->fields, *column);
    if (!group.fields->more.empty()) {
        group.moreHead = new FoldHead(tr("%1 more").arg(group.fields->more.size()), true);
        group.moreBody = folded();
        lay(*column, {group.moreHead, group.moreBody});
        const auto index = static_cast<std::size_t>(&group - groups_.data());
        connect(group.moreHead, &FoldHead::toggled, this, [this, index](bool open) {
            Group& one = groups_[index];
            auto* more = static_cast<QVBoxLayout*>(one.moreBody->layout());
            if (more->count() == 0) addRows(one.fields->more, *more);
            one.moreBody->setVisible(open);
        });
    }
    column->addSpacing(gridStep);
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
    const auto found = std::ranges::find(rows_, wanted, [](const FieldRow* row) { return row->field().key(); });
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
    const auto found = std::ranges::find(rows_, before, &FieldRow::editor);
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
        return std::ranges::find(fields, wanted, &PlanField::key) != fields.end();
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

QString groupSummary(const QString& group, const PlanSession& session) {
    const PlanInput& in = session.input();
    const Units& units = session.units();
    const PlanOutcome* outcome = session.outcome().get();
    if (group == QLatin1String("course")) return courseSummary(in, units, outcome);
    if (group == QLatin1String("vehicle"))
        return tr("%1, %2").arg(units.text(Dimension::Mass, in.vehicle.mass_kg, 2), drivenSummary(in.vehicle.driven));
    if (group == QLatin1String("tyre"))
        return tr("%1, grows %2 %")
            .arg(units.text(Dimension::Length, in.tyre.radius_m))
            .arg(100.0 * in.tyre.growth, 0, 'g', 2);
    if (group == QLatin1String("gearing"))
        return outcome ? tr("rollout %1").arg(units.text(Dimension::Length, outcome->result.rollout)) : QString();
    if (group == QLatin1String("motor")) return tr("%1 rpm/V").arg(in.motor.kv_rpm_per_V, 0, 'f', 0);
    if (group == QLatin1String("controller")) return controllerSummary(in);
    if (group == QLatin1String("pack")) return packSummary(in);
    return in.drive.passes == 1 ? tr("1 pass") : tr("%1 passes").arg(in.drive.passes);
}

PackChoice::PackChoice(PlanSession& session)
    : session_(session) {
    setObjectName(QStringLiteral("packChoice"));
    setAccessibleName(tr("Pack in the car"));
    setToolTip(tr("Another pack of the garage in the car: one step, and Ctrl+Z takes it back"));
    setFocusPolicy(Qt::StrongFocus);
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    setMinimumContentsLength(8);
    connect(this, &QComboBox::activated, this, [this](int index) { take(itemData(index).toString()); });
    connect(&session_, &PlanSession::replaced, this, &PackChoice::fill);
    connect(&session_.desk().garage, &GarageSession::opened, this, &PackChoice::fill);
    connect(&session_.desk().garage, &GarageSession::changed, this, &PackChoice::fill);
    fill();
}

void PackChoice::fill() {
    clear();
    if (session_.desk().garage.isOpen())
        session_.desk().garage.look([this](Garage& garage) {
            for (const Part& pack : garage.parts(ItemKind::Pack))
                rw::addItem(*this, pack.name, pack.id);
        });
    const BenchContent& content = session_.desk().bench.content();
    setCurrentIndex(content.packId.isEmpty() ? -1 : findData(content.packId));
    setPlaceholderText(session_.empty() ? QString()
                                        : tr("%1 cells, not of the garage").arg(session_.input().pack.series));
    setEnabled(count() > 0);
}

void PackChoice::take(const QString& packId) {
    if (session_.empty() || packId == session_.desk().bench.content().packId) return;
    session_.desk().garage.look([&](Garage& garage) {
        const Part pack = garage.part(parseId(packId.toStdString(), "pack"));
        BenchContent content = session_.desk().bench.content();
        const auto fit = [&pack](PlanInput& input) {
            const std::optional<double> was = input.pack.mass_kg;
            fitPack(pack.values, input);
            const double change = was && input.pack.mass_kg ? *input.pack.mass_kg - *was : 0.0;
            if (input.vehicle.mass_kg + change > 0.0) input.vehicle.mass_kg += change;
        };
        content.pack = QString::fromStdString(pack.name);
        content.packId = packId;
        addSources(pack.values, content);
        describePack(pack.values, content);
        const double mass = session_.input().vehicle.mass_kg;
        const bool known = session_.input().pack.mass_kg.has_value();
        const QString step = tr("fit %1").arg(content.pack);
        session_.exchange(step, std::move(content), fit);
        const double now = session_.input().vehicle.mass_kg;
        const QString name = session_.desk().bench.content().pack;
        const auto weight = [this](double kg) { return session_.units().text(Dimension::Mass, kg); };
        emit session_.desk().voice.said(
            !known || !session_.input().pack.mass_kg
                ? tr("%1 is in the car; the vehicle's mass stays %2, for what the packs weigh is not known.")
                      .arg(name, weight(now))
            : now == mass ? tr("%1 is in the car; it weighs the same.").arg(name)
                          : tr("%1 is in the car; the vehicle's mass is %2 now.").arg(name, weight(now)));
    });
}

} // namespace rw
