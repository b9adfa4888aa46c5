#include "app/desktop/plan/power_card.h"

#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/limit_texts.h"

#include <QPainter>
#include <QPushButton>
#include <QVBoxLayout>

#include <cmath>

namespace rw {

bool sameParts(const PlanInput& a, const PlanInput& b) {
    return a.motor == b.motor && a.controller == b.controller && a.pack == b.pack &&
           a.gears.pinion_teeth == b.gears.pinion_teeth && a.gears.spur_teeth == b.gears.spur_teeth;
}

PowerCard::PowerCard(QWidget* parent)
    : QWidget(parent) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(gridStep + 4, gridStep + 4, gridStep + 4, gridStep + 4);
    column->setSpacing(gridStep / 2);
    head_ = new TextLabel(QString(), Type::Strong);
    head_->setWordWrap(true);
    words_ = new TextLabel(QString(), Type::Small);
    words_->setWordWrap(true);
    put_ = new QPushButton(tr("Put it on the bench"));
    put_->setObjectName(QStringLiteral("powerBench"));
    column->addWidget(head_);
    column->addWidget(words_);
    column->addSpacing(gridStep / 2);
    column->addWidget(put_, 0, Qt::AlignLeft);
    connect(put_, &QPushButton::clicked, this, &PowerCard::putWanted);
}

void PowerCard::show(const ChooseRow* row, const QString& name, const PlanSession& session) {
    const bool empty = session.empty();
    put_->setVisible(row != nullptr);
    put_->setEnabled(row && !empty && !sameParts(row->plan, session.input()));
    head_->setText(row ? tr("Picked: %1").arg(name) : tr("Nothing picked"));
    const auto outcome = session.outcome();
    if (!row || empty || !outcome || outcome->result.margins.empty()) {
        words_->setText(row ? QString() : tr("Pick a row to see what it would change."));
        return;
    }
    const Units& units = session.units();
    const PassResult& now = outcome->result.passes.front();
    const Margin& was = outcome->result.margins.front();
    QStringList words{tr("%1 %2; was %3 %4.")
                          .arg(limitTitle(row->tightest.limit), limitTexts(row->tightest, units).left,
                               limitTitle(was.limit), limitTexts(was, units).left),
                      tr("Zone %1 → %2, pack %3 → %4, motor %5 → %6.")
                          .arg(units.figure(Dimension::Speed, now.zoneMean, 1),
                               units.text(Dimension::Speed, row->zoneMean, 1),
                               units.figure(Dimension::Current, now.peakPackCurrent, 0),
                               units.text(Dimension::Current, row->peakPackCurrent, 0),
                               units.figure(Dimension::Temperature, now.caseSoakPeak, 0),
                               units.text(Dimension::Temperature, row->caseSoakPeak, 0))};
    const double gained = row->plan.vehicle.mass_kg - session.input().vehicle.mass_kg;
    if (gained != 0.0)
        words << (gained > 0.0 ? tr("The car gains %1.") : tr("The car loses %1."))
                     .arg(units.text(Dimension::Mass, std::abs(gained), 2));
    for (const std::string& note : row->notes)
        words << QString::fromStdString(note);
    words_->setText(words.join(QLatin1Char(' ')));
}

QString PowerCard::text() const { return head_->text() + QLatin1Char('\n') + words_->text(); }

void PowerCard::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    painter.setBrush(Look::of(this).wash);
    painter.drawRoundedRect(rect(), 4.0, 4.0);
}

} // namespace rw
