#include "app/desktop/plan/ladder_panel.h"

#include "app/desktop/pages/ladder_drawing.h"
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/export.h"

#include <QDoubleSpinBox>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPushButton>
#include <QSignalBlocker>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double edge = 2.0 * gridStep; // of the paper round the drawing

LadderPart whole(const LadderSheet& sheet) { return {0, sheet.columns.size()}; }

} // namespace

StairView::StairView() {
    setFocusPolicy(Qt::StrongFocus);
    offerExport(*this, [this] {
        return Drawing{QStringLiteral("ladder"), size(), Look::light().sheet,
                       [this](QPainter& painter, const QRectF& rect) {
                           painter.save();
                           painter.translate(rect.topLeft() + QPointF(edge, edge));
                           paintLadder(painter, sheet_, whole(sheet_), Look::light(),
                                       rect.size() - QSizeF(2.0 * edge, 2.0 * edge));
                           painter.restore();
                       },
                       [this] {
                           QString out;
                           for (const QStringList& row : ladderTable(sheet_))
                               out += csvLine(row);
                           return out;
                       }};
    });
}

void StairView::setSheet(LadderSheet sheet) {
    sheet_ = std::move(sheet);
    empty_.clear();
    chosen_.reset();
    for (std::size_t i = 0; i < sheet_.columns.size() && !chosen_; ++i)
        if (choosable(i)) {
            if (sheet_.columns[i].risky) break; // not even the next one behind it: steps are climbed in order
            chosen_ = i;
        }
    QStringList words{sheet_.title};
    for (const QStringList& row : ladderTable(sheet_))
        words << row.join(QStringLiteral(" | "));
    setAccessibleDescription(words.join(QLatin1Char('\n')));
    updateGeometry();
    update();
    emit choiceChanged();
}

void StairView::setEmpty(const QString& words) {
    sheet_ = {};
    chosen_.reset();
    empty_ = words;
    setAccessibleDescription(words);
    updateGeometry();
    update();
    emit choiceChanged();
}

bool StairView::choosable(std::size_t column) const {
    return column < sheet_.columns.size() && !sheet_.columns[column].blocked;
}

void StairView::choose(std::optional<std::size_t> column) {
    if (column && !choosable(*column)) return;
    chosen_ = column;
    update();
    if (column) {
        const auto [left, right] = columnAt(*column);
        emit columnWanted(static_cast<int>(left), static_cast<int>(right));
    }
    emit choiceChanged();
}

std::pair<double, double> StairView::columnAt(std::size_t column) const {
    const auto [left, right] = ladderColumnAt(sheet_, whole(sheet_), width() - 2.0 * edge, column);
    return {left + edge, right + edge};
}

QSize StairView::minimumSizeHint() const {
    if (sheet_.columns.empty()) return {40 * gridStep, 22 * gridStep};
    const QSizeF least = ladderLeast(sheet_, whole(sheet_));
    return {static_cast<int>(std::ceil(least.width() + 2.0 * edge)),
            static_cast<int>(std::ceil(
                ladderLeastHeight(sheet_, whole(sheet_), std::max(least.width(), width() - 2.0 * edge)) + 2.0 * edge))};
}

int StairView::heightForWidth(int width) const {
    if (sheet_.columns.empty()) return minimumSizeHint().height();
    return static_cast<int>(std::ceil(ladderLeastHeight(sheet_, whole(sheet_), width - 2.0 * edge) + 2.0 * edge));
}

void StairView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(hasFocus() ? look.accent : look.rule, 1.0));
    painter.setBrush(look.sheet);
    painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
    if (sheet_.columns.empty()) {
        setInk(painter, Type::Body, look.soft);
        painter.drawText(rect().adjusted(20, 20, -20, -20), Qt::AlignCenter | Qt::TextWordWrap, empty_);
        return;
    }
    painter.translate(edge, edge);
    paintLadder(painter, sheet_, whole(sheet_), look, QSizeF(size()) - QSizeF(2.0 * edge, 2.0 * edge), chosen_);
}

void StairView::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) return;
    for (std::size_t i = 0; i < sheet_.columns.size(); ++i) {
        const auto [left, right] = columnAt(i);
        if (event->position().x() >= left && event->position().x() < right) choose(i);
    }
}

void StairView::keyPressEvent(QKeyEvent* event) {
    const std::size_t now = chosen_.value_or(0);
    switch (event->key()) {
    case Qt::Key_Left:
        return choose(now > 0 ? now - 1 : 0);
    case Qt::Key_Right:
        return choose(chosen_ ? now + 1 : 0);
    case Qt::Key_Home:
        return choose(0);
    default:
        QWidget::keyPressEvent(event);
    }
}

constexpr std::size_t stepRuns = 1000;
constexpr double usualProven = 0.85; // of the target, where the plan is faster already

LadderPanel::LadderPanel(PlanSession& session)
    : session_(session)
    , watch_(this, session, [this] { ask(); })
    , worker_(this, [this](std::shared_ptr<const Ladder> ladder, const QString& why) {
        ladder_ = std::move(ladder);
        trouble_ = why;
        draw();
    }) {
    auto* bar = makeBar();
    stair_ = named(new StairView, tr("The steps as a stair over speed"));
    auto* area = scrolled(stair_); // over five steps it scrolls sideways
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}), {bar, grow(area)});
    connect(stair_, &StairView::choiceChanged, this, &LadderPanel::tellChoice);
    connect(stair_, &StairView::columnWanted, area,
            [area](int left, int right) { area->ensureVisible((left + right) / 2, 0, (right - left) / 2, 0); });
    makePrinting();
    connect(&session_, &PlanSession::replaced, this, [this] { proven_.reset(); });
    connect(&session_.desk().units, &Units::changed, this, [this] {
        showUnits();
        draw();
    });
    showUnits();
    draw();
}

QWidget* LadderPanel::makeBar() {
    auto* bar = new QWidget;
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    provenField_ = named(new QDoubleSpinBox, tr("Proven speed"));
    provenField_->setDecimals(1);
    provenField_->setRange(0.1, 2000.0);
    provenField_->setKeyboardTracking(false);
    stepField_ = named(new QDoubleSpinBox, tr("Largest step"));
    stepField_->setDecimals(0);
    stepField_->setRange(1.0, 50.0);
    stepField_->setValue(LadderOptions{}.step * 100.0);
    stepField_->setSuffix(QStringLiteral(" %"));
    stepField_->setKeyboardTracking(false);
    print_ = new QPushButton(tr("Print…"));
    put_ = tagged(button(tr("Put it on the bench"), this, &LadderPanel::putOnBench), "ladderBench");
    lay(*rowIn(bar, gridStep),
        {grow(note_), new TextLabel(tr("proven"), Type::Small, Tone::Soft), provenField_,
         new TextLabel(tr("steps of at most"), Type::Small, Tone::Soft), stepField_, put_, print_});
    connect(provenField_, &QDoubleSpinBox::valueChanged, this,
            [this](double shown) { setProven(session_.units().of(Dimension::Speed).inside(shown)); });
    connect(stepField_, &QDoubleSpinBox::valueChanged, this, [this] { watch_.again(); });
    return bar;
}

void LadderPanel::makePrinting() {
    const PageWords words{tr("Print &ladder…"), tr("Sa&ve ladder as PDF or HTML…"),
                          tr("The steps to the target, to tick off"), false};
    const auto order = [this] {
        return PageOrder{tr("ladder %1").arg(session_.desk().bench.content().name), true,
                         [sheet = sheet()](const WorkOptions&) { return makeLadderPage(sheet); }};
    };
    printer_ = new PagePrinter(session_.desk(), this, words, order, this);
    printer_->setEnabled(false);
    connect(print_, &QPushButton::clicked, printer_, &PagePrinter::print);
}

void LadderPanel::setProven(double metresPerSecond) {
    proven_ = metresPerSecond;
    showUnits();
    watch_.again();
}

// What the person said; else what the plan as it is promises, or somewhat less than the target.
double LadderPanel::provenNow() const {
    if (proven_) return *proven_;
    const double target = session_.input().drive.target_mps.value_or(0.0);
    const auto outcome = session_.outcome();
    const auto mean = outcome ? outcome->result.passes.front().zoneMean : std::nullopt;
    return mean && (target <= 0.0 || *mean < target) ? *mean : usualProven * target;
}

void LadderPanel::showUnits() {
    const QSignalBlocker quiet(provenField_);
    const UnitView speed = session_.units().of(Dimension::Speed);
    provenField_->setSuffix(QStringLiteral(" ") + speed.symbol);
    if (!session_.empty()) provenField_->setValue(speed.shown(provenNow()));
}

void LadderPanel::ask() {
    ladder_.reset();
    trouble_.clear();
    showUnits();
    const auto target = session_.input().drive.target_mps;
    if (!target) {
        worker_.cancel();
        return draw();
    }
    asked_ = provenNow();
    start_ = session_.input();
    worker_.ask([input = session_.shared(), proven = asked_, target = *target,
                 step = stepField_->value() / 100.0](std::stop_token stop) {
        return climbLadder(*input, proven, target, {step, stepRuns, {stop, {}, 0}});
    });
    draw();
}

LadderSheet LadderPanel::sheet() const {
    const BenchContent content = session_.desk().bench.content();
    LadderHead head{content.name, content.venue, asked_, session_.input().drive.target_mps.value_or(0.0), start_};
    return ladderSheet(head, *ladder_, session_.units());
}

void LadderPanel::draw() {
    const auto target = session_.empty() ? std::nullopt : session_.input().drive.target_mps;
    const bool any = ladder_ && target;
    printer_->setEnabled(any);
    print_->setEnabled(any);
    if (any)
        stair_->setSheet(sheet());
    else
        stair_->setEmpty(!trouble_.isEmpty() ? trouble_
                         : target            ? tr("…")
                                             : tr("Set a target under Drive to see the steps to it."));
}

// What the button would do, in words beside it. A step that is likely to break a limit is never offered by itself.
void LadderPanel::tellChoice() {
    const auto chosen = stair_->chosen();
    put_->setEnabled(chosen.has_value());
    QString words;
    if (chosen) {
        const LadderColumn& column = stair_->sheet().columns[*chosen];
        words = column.head + QStringLiteral(": ") + column.change;
        if (column.risky) words = tr("▲ %1, likely to break a limit").arg(words);
    } else if (ladder_ && !ladder_->steps.empty()) {
        words = tr("▲ The first step is likely to break a limit.");
    }
    note_->setText({}, words);
}

void LadderPanel::putOnBench() {
    const auto chosen = stair_->chosen();
    if (!chosen || !ladder_ || session_.empty()) return;
    PlanInput next = ladder_->steps[*chosen].plan;
    next.drive.target_mps = session_.input().drive.target_mps;
    proven_ = asked_; // what is on the bench now is not proven by being there
    session_.step(tr("step %1 of the ladder").arg(*chosen + 1), std::move(next));
}

} // namespace rw
