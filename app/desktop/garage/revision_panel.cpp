#include "app/desktop/garage/revision_panel.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QComboBox>
#include <QHeaderView>
#include <QItemSelectionModel>
#include <QPushButton>

#include <algorithm>
#include <map>

namespace rw {

namespace {
constexpr int mostBest = 1000; // revisions of one vehicle

QString revisionText(const Setup& setup) {
    return RevisionPanel::tr("%1, revision %2").arg(QString::fromStdString(setup.name)).arg(setup.revision);
}

QString stepText(const Setup& was, const Setup& is) {
    return was.name == is.name ? RevisionPanel::tr("Revision %1 → %2").arg(was.revision).arg(is.revision)
                               : RevisionPanel::tr("%1 → %2").arg(revisionText(was), revisionText(is));
}

} // namespace

RevisionPanel::RevisionPanel(const Desk& desk)
    : desk_(desk) {
    bench_ = new QPushButton(tr("Put on the bench"));
    bench_->setToolTip(tr("Plan with this revision"));
    empty_ = new TextLabel(tr("No setup yet. “New setup from parts…” in the Garage menu makes one; then plan with it."),
                           Type::Body, Tone::Soft);
    revisions_ = new ValueTable(3, tr("Setup revisions"));
    revisions_->horizontalHeader()->setStretchLastSection(false);
    differenceHead_ = new TextLabel(QString(), Type::Heading);
    against_ = named(new QComboBox, tr("Revision that it is compared with"), "comparedWith");
    against_->setFont(rw::font(Type::Small));
    differences_ = new ValueTable(3, tr("What changed"), QAbstractItemView::ExtendedSelection);
    lay(*columnIn(this, gridStep),
        {laid(rowOf(), {new TextLabel(tr("Setup revisions"), Type::Heading), slack(1), bench_}), empty_, revisions_,
         laid(new QHBoxLayout, {grow(differenceHead_), against_}), differences_});
    connect(against_, &QComboBox::activated, this, &RevisionPanel::showDifference);
    connect(revisions_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            &RevisionPanel::showDifference);
    connect(bench_, &QPushButton::clicked, this, [this] {
        if (const Setup* setup = shown()) emit benchWanted(setup->id);
    });
    connect(revisions_, &FigureTable::rowActivated, bench_, [this] { bench_->click(); });
}

void RevisionPanel::show(Id vehicle) {
    setups_.clear();
    std::vector<BestPass> best;
    desk_.garage.look([&](Garage& garage) {
        setups_ = garage.setups(vehicle);
        best = garage.bestPasses(vehicle, mostBest);
    });
    const auto before = chosen_;
    fillRevisions(best);
    const bool any = !setups_.empty();
    empty_->setVisible(!any);
    rw::setVisible(any, {revisions_, differenceHead_, differences_, bench_});
    if (any) revisions_->selectRow(0);
    if (before) choose(*before);
    showDifference();
}

void RevisionPanel::choose(Id setup) {
    const auto same = std::ranges::find(setups_, setup, &Setup::id);
    if (same != setups_.end()) revisions_->selectRow(static_cast<int>(same - setups_.begin()));
}

void RevisionPanel::fillRevisions(const std::vector<BestPass>& all) {
    std::map<Id, const BestPass*> best;
    for (const BestPass& pass : all)
        best[pass.setup] = &pass;
    ValueRows rows;
    for (const Setup& setup : setups_) {
        const auto found = best.find(setup.id);
        const std::optional<double> speed =
            found == best.end() ? std::nullopt : std::optional(found->second->oneWay.mps);
        rows.push_back({{revisionText(setup), {}, Tone::Ink, true},
                        {dateText(setup.created), {}, Tone::Soft},
                        {setup.reason.empty() ? tr("first of its line") : QString::fromStdString(setup.reason)},
                        {desk_.units.figure(Dimension::Speed, speed), rawOf(speed)}});
    }
    against_->clear();
    against_->addItem(tr("what it came from"));
    for (const Setup& setup : setups_)
        against_->addItem(revisionText(setup));
    revisions_->setRows({tr("setup"), tr("since"), tr("why"), tr("best, %1").arg(desk_.units.symbol(Dimension::Speed))},
                        std::move(rows));
    fitToRows(*revisions_, 2);
}

const Setup* RevisionPanel::shown() const { return atRow(setups_, revisions_->currentIndex().row()); }

// What it came from, or any other revision that the vehicle has.
std::optional<Id> RevisionPanel::comparedWith(const Setup& setup) const {
    if (against_->currentIndex() > 0) return setups_[static_cast<std::size_t>(against_->currentIndex() - 1)].id;
    return setup.parent;
}

ValueRows RevisionPanel::differenceRows(const std::vector<Difference>& differences) const {
    ValueRows rows;
    for (const Difference& d : differences) {
        const QString was = valueText(d.key, d.was, desk_.units), is = valueText(d.key, d.is, desk_.units);
        if (was == is) continue; // another source or ±, the same value
        rows.push_back({{keyLabel(d.key), {}, Tone::Ink, false, keyHelp(d.key, desk_.units)},
                        {was, {}, Tone::Soft},
                        {is, {}, Tone::Accent, true}});
    }
    if (rows.empty()) rows.push_back({{tr("no value")}, {QString()}, {QString()}});
    return rows;
}

void RevisionPanel::showDifference() {
    const Setup* is = shown();
    chosen_ = is ? std::optional(is->id) : std::nullopt;
    const std::optional<Id> other = is ? comparedWith(*is) : std::nullopt;
    std::vector<Difference> differences;
    Setup was;
    const bool some = other && desk_.garage.look([&](Garage& garage) {
        was = garage.setup(*other);
        differences = garage.difference(*other, *chosen_);
    });
    against_->setVisible(chosen_ && setups_.size() > 1);
    differenceHead_->setVisible(some || against_->isVisibleTo(this));
    differences_->setVisible(some);
    differenceHead_->setText(some ? stepText(was, *is) : tr("Compare with"));
    if (!some) return;
    differences_->setRows({tr("what"), tr("was"), tr("is")}, differenceRows(differences));
    differences_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    fitToRows(*differences_);
}

} // namespace rw
