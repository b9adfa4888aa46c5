#include "app/desktop/pages/run_sheet.h"

#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/plan_words.h"
#include "core/plan/plan.h"
#include "core/plan/plan_figures.h"
#include "core/plan/spread.h"
#include "core/plan/strip.h"
#include "plotting/look.h"

#include <QApplication>
#include <QCoreApplication>
#include <QFileInfo>
#include <QImage>
#include <QPainter>
#include <QPainterPath>
#include <QTextStream>

#include <algorithm>

namespace rw {

namespace {

QString tr(const char* text) { return QCoreApplication::translate("pages", text); }

// The strip to scale from above, for paper: run-up, timed zone, coast, braking, what is left, and where the cones
// stand.
struct StopRange { // m: nine stops in ten lie within; equal to the stop where not known
    double earliest = 0.0, latest = 0.0;
};

class StripPainter {
public:
    StripPainter(QPainter& painter, const StripMarks& marks, const StopRange& range, const Units& units, QSize size)
        : painter_(painter)
        , marks_(marks)
        , range_(range)
        , units_(units)
        , width_(size.width() - 2.0 * side)
        , longest_(std::max({marks.end, marks.stop, range.latest, 1.0})) {}

    void draw() {
        const Look& look = Look::light();
        for (const StripSegment& segment : stripSegments(marks_))
            band(segment);
        painter_.setPen(QPen(look.soft, 1.0));
        painter_.setBrush(Qt::NoBrush);
        painter_.drawRect(QRectF(at(0.0), top, at(marks_.end) - at(0.0), height));
        strokeLine(painter_, QPen(look.ink, 2.0), QPointF(at(range_.earliest), top + height + 5.0),
                   QPointF(at(range_.latest), top + height + 5.0));
        for (const double x : stripCones(marks_))
            cone(x);
        placeLabels();
    }

private:
    static constexpr double side = 18.0, top = 20.0, height = 30.0;

    [[nodiscard]] double at(double x) const { return side + x / longest_ * width_; }

    static QColor fill(StripKind kind) {
        const Look& look = Look::light();
        switch (kind) {
        case StripKind::Timed:
            return look.accent;
        case StripKind::Coast:
            return look.rule;
        case StripKind::Left:
            return look.sheet;
        default:
            return look.wash;
        }
    }

    void band(const StripSegment& segment) {
        const Look& look = Look::light();
        const QRectF box(at(segment.from), top, at(segment.to) - at(segment.from), height);
        if (segment.kind == StripKind::Beyond) return drawHatch(painter_, box, look.bad);
        painter_.fillRect(box, fill(segment.kind));
        if (segment.kind == StripKind::Coast) return; // between two cones: too narrow for words
        const QString length = units_.text(Dimension::Distance, segment.to - segment.from);
        setInk(painter_, Type::Small,
               segment.kind == StripKind::Timed  ? look.sheet
               : segment.kind == StripKind::Left ? look.soft
                                                 : look.ink);
        const QFontMetricsF metrics(painter_.font());
        for (const QString& text : {stripWord(segment.kind) + QLatin1Char(' ') + length, length})
            if (metrics.horizontalAdvance(text) + 6.0 < box.width()) {
                painter_.drawText(box, Qt::AlignCenter, text);
                break;
            }
    }

    void cone(double x) {
        QPainterPath path;
        path.moveTo(at(x) - 5.0, top - 3.0);
        path.lineTo(at(x) + 5.0, top - 3.0);
        path.lineTo(at(x), top - 14.0);
        path.closeSubpath();
        painter_.fillPath(path, Look::light().warn);
    }

    // Under the strip, each as near its place as its neighbours allow; two lines where one is too narrow.
    void placeLabels() {
        struct Label {
            double x;
            QString text;
        };
        const auto place = [this](double x) { return units_.text(Dimension::Distance, x); };
        const std::vector<Label> labels{{0.0, tr("start")},
                                        {marks_.zoneEntry, tr("cone %1").arg(place(marks_.zoneEntry))},
                                        {marks_.zoneExit, tr("cone %1").arg(place(marks_.zoneExit))},
                                        {marks_.stop, tr("stands %1").arg(place(marks_.stop))},
                                        {marks_.end, tr("end %1").arg(place(marks_.end))}};
        painter_.setPen(Look::light().ink);
        const QFontMetricsF metrics(painter_.font());
        double right[2] = {-1e9, -1e9};
        for (const Label& label : labels) {
            const double w = metrics.horizontalAdvance(label.text);
            const double left = std::clamp(at(label.x) - w / 2.0, 0.0, width_ + 2.0 * side - w);
            const int line = left > right[0] + 8.0 ? 0 : 1;
            painter_.drawText(QPointF(std::max(left, right[line] + 8.0),
                                      top + height + 12.0 + metrics.ascent() + line * metrics.height()),
                              label.text);
            right[line] = std::max(left, right[line] + 8.0) + w;
        }
    }

    QPainter& painter_;
    const StripMarks& marks_;
    const StopRange& range_;
    const Units& units_;
    double width_, longest_;
};

// Drawn at `scale` times the size in logical pixels.
QImage drawStrip(const StripMarks& marks, const StopRange& range, const Units& units, QSize size, double scale) {
    QImage image(size * scale, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    painter.scale(scale, scale);
    StripPainter(painter, marks, range, units, size).draw();
    return image;
}

constexpr std::size_t sheetRuns = 2000;
constexpr std::uint64_t sheetSeed = 1;
constexpr int stripWidth = 660, stripHeight = 92; // logical pixels of the layout
constexpr double stripScale = 4.0;

const SpreadFigure* figureOf(const SpreadResult& spread, std::string_view name) {
    const auto found = std::ranges::find(spread.figures, name, &SpreadFigure::name);
    return found == spread.figures.end() || !found->p05 ? nullptr : &*found;
}

class Sheet {
public:
    Sheet(const BenchContent& content, const Units& units, const WorkOptions& work)
        : content_(content)
        , in_(*content.input)
        , units_(units)
        , work_(work)
        , plan_(simulatePlan(in_))
        , first_(plan_.passes.front())
        , page_(tr("Run sheet: %1").arg(name())) {
        if (!in_.uncertainty.empty()) spread_ = spreadPlan(in_, {.runs = sheetRuns, .seed = sheetSeed, .work = work});
    }

    PageDocument make() {
        addHead();
        addStrip();
        addSettings();
        addFigures();
        addPasses();
        addLists();
        return std::move(page_);
    }

private:
    [[nodiscard]] QString name() const {
        QString text = content_.name.isEmpty() ? tr("plan") : content_.name;
        if (content_.revision > 0) text += tr(", revision %1").arg(content_.revision);
        if (content_.changes > 0) text += tr(" with changes not kept");
        return text;
    }
    [[nodiscard]] QString speed(std::optional<double> v) const { return units_.text(Dimension::Speed, v, 1); }
    // A value of the plan as its field on the screen shows it.
    [[nodiscard]] QString shown(const char* key) const { return valueWithUnit(*findPlanField(key), units_, in_); }
    [[nodiscard]] QString allowed(std::string_view limit, Dimension dimension, int decimals) const {
        const auto found = std::ranges::find(plan_.margins, limit, &Margin::limit);
        return found == plan_.margins.end() ? QStringLiteral("–") : units_.text(dimension, found->allowed, decimals);
    }
    [[nodiscard]] QString heat(std::optional<double> c) const { return units_.text(Dimension::Temperature, c, 0); }

    void addHead() {
        QStringList beside;
        if (!content_.venue.isEmpty()) beside << content_.venue;
        beside << heat(in_.air.temperature_C);
        const double head = headWind(in_.wind.speed_mps, in_.wind.from_deg, in_.venue.heading_deg);
        if (in_.wind.speed_mps > 0.0)
            beside << (head >= 0.0 ? tr("head wind %1") : tr("tail wind %1")).arg(speed(std::abs(head)));
        page_.title(tr("Run sheet: %1").arg(name()), beside.join(QStringLiteral(" · ")));
        QString text;
        if (in_.drive.target_mps) text = tr("Target %1. ").arg(speed(*in_.drive.target_mps));
        if (first_.zoneMean) {
            text += tr("Expected %1 through %2").arg(speed(*first_.zoneMean), shown("venue.timed_m"));
            if (const SpreadFigure* f = figureOf(spread_, "zone_mean_mps"))
                text += tr(", nine times in ten between %1 and %2")
                            .arg(units_.figure(Dimension::Speed, *f->p05, 1), speed(*f->p95));
            text += QLatin1Char('.');
        } else {
            text += tr("This plan does not complete its pass: do not run it.");
        }
        page_.paragraph(text);
        const HoldAnswer answer = willItHold(in_, plan_, work_);
        page_.paragraph(QStringList{holdSentence(answer, units_), heldBackSentence(answer.heldBack, units_)}.join(
            QLatin1Char(' ')));
    }

    void addStrip() {
        StopRange range{first_.stopAt, first_.stopAt};
        if (const SpreadFigure* f = figureOf(spread_, "stop_at_m")) range = {*f->p05, *f->p95};
        page_.picture(drawStrip(stripMarks(in_, plan_), range, units_, {stripWidth, stripHeight}, stripScale),
                      tr("The strip to scale, with cones at start, zone and standstill"), stripWidth);
    }

    void addSettings() {
        const auto& cut = in_.controller.cutoff;
        const QString cutoff = cut.mode == CutoffMode::Off
                                   ? tr("off")
                                   : (cut.mode == CutoffMode::Soft ? tr("soft, %1 a cell") : tr("hard, %1 a cell"))
                                         .arg(units_.text(Dimension::Voltage, cut.cell_V));
        page_.heading(tr("Set before you go"));
        page_.fields(
            {{tr("pinion / spur"), QStringLiteral("%1 / %2").arg(in_.gears.pinion_teeth).arg(in_.gears.spur_teeth)},
             {tr("pack"), packText(content_)},
             {tr("pack charge and temperature"),
              shown("pack.charge") + QStringLiteral(", ") + heat(in_.start.pack_C.value_or(in_.air.temperature_C))},
             {tr("voltage cutoff"), cutoff},
             {tr("throttle end point"), shown("controller.endpoint")},
             {tr("throttle ramp"), shown("drive.throttle_ramp_s")},
             {tr("brake"), shown("drive.brake_weight_fraction")},
             {tr("timing"), shown("motor.timing_deg")},
             {tr("rollout"), units_.text(Dimension::Length, plan_.rollout, 1)}},
            3);
    }

    void addFigures() {
        std::vector<QStringList> rows{{tr("figure"), tr("expected"), tr("nine in ten"), tr("stop the day if")}};
        const auto add = [&](std::string_view key, const QString& stop) {
            const PlanFigure& figure = *findPlanFigure(key);
            const int decimals = figure.decimals - 1;
            QString interval = QStringLiteral("–");
            if (const SpreadFigure* f = figureOf(spread_, key))
                interval = units_.figure(figure.dimension, *f->p05, decimals) + QStringLiteral(" … ") +
                           units_.text(figure.dimension, *f->p95, decimals);
            rows.push_back({QString::fromUtf8(figure.brief()),
                            units_.text(figure.dimension, figure.get(in_, first_), decimals), interval, stop});
        };
        const SpreadFigure* zone = figureOf(spread_, "zone_mean_mps");
        const auto under = [&](const QString& text) { return tr("under %1").arg(text); };
        const auto over = [&](const QString& text) { return tr("over %1").arg(text); };
        add("zone_mean_mps", zone ? under(speed(*zone->p05)) : QStringLiteral("–"));
        const auto rating = in_.pack.burst_c_rate ? in_.pack.burst_c_rate : in_.pack.continuous_c_rate;
        add("peak_pack_A",
            rating ? over(units_.text(Dimension::Current, *rating * in_.pack.capacity_Ah, 0)) : QStringLiteral("–"));
        add("min_cell_V", under(allowed("cell_voltage", Dimension::Voltage, 2)));
        add("case_soak_peak_C", over(heat(in_.motor.comfort_C)));
        add("controller_peak_C", over(heat(in_.controller.comfort_C)));
        add("stop_at_m", over(units_.text(Dimension::Distance, in_.venue.length_m, 0)));
        page_.heading(tr("Expect"));
        page_.table(rows, 1);
    }

    void addPasses() {
        QString text = tr("At most %1 passes in a row, %2 apart")
                           .arg(plan_.passesUntilLimit)
                           .arg(units_.text(Dimension::Time, in_.drive.turn_around_s, 0));
        if (plan_.passesUntilLimit == 0) text = tr("Not even one pass stays within the limits: change the setup first");
        if (plan_.shortestWait_s.value_or(0) > 0)
            text += tr("; a second pass needs a wait of %1 s or more").arg(*plan_.shortestWait_s);
        page_.paragraph(text + QLatin1Char('.'));
        QStringList broken;
        for (const Margin& margin : plan_.margins)
            if (margin.margin < 0.0) broken << limitTitle(margin.limit).toLower();
        if (!broken.isEmpty())
            page_.paragraph(
                tr("Broken in this plan: %1. Do not run it like this.").arg(broken.join(QStringLiteral("; "))));
    }

    void addLists() {
        QStringList go{tr("strip closed, permission in hand"), tr("spotters at both ends, people behind the line"),
                       tr("failsafe tried: transmitter off, the car brakes"), tr("stopping distance clear to its end")};
        go << (in_.tyre.max_speed_radps
                   ? tr("tyres without cuts, rated over %1 rad/s").arg(first_.peakWheelSpeed, 0, 'f', 0)
                   : tr("tyres without cuts; their rating is not known"));
        go << tr("wheel nuts, gear mesh, body pins") << tr("pack warm, without swelling, full");
        const QStringList after{tr("pack out, check by hand for heat"),
                                tr("motor reading at rest and after one minute"), tr("log saved"),
                                tr("tyres looked at")};
        page_.checklists({{tr("Go only if"), go}, {tr("After the pass"), after}});
        page_.paragraph(cautionList().join(QLatin1Char(' ')), true);
    }

    const BenchContent& content_;
    const PlanInput& in_;
    const Units& units_;
    WorkOptions work_;
    PlanResult plan_;
    const PassResult& first_;
    SpreadResult spread_;
    PageDocument page_;
};

} // namespace

PageDocument makeRunSheet(const BenchContent& content, const Units& units, const WorkOptions& work) {
    return Sheet(content, units, work).make();
}

int written(const QString& path) {
    QTextStream(stdout) << "written: " << path << '\n';
    return 0;
}

int printSheet(const TaskArguments& arguments) {
    QApplication::setFont(baseFont());
    BenchContent content = benchFromFile(arguments.value);
    if (content.name.isEmpty()) content.name = QFileInfo(arguments.value).completeBaseName();
    content.name.replace(QLatin1Char('_'), QLatin1Char(' '));
    const Units units;
    makeRunSheet(content, units).writeTo(arguments.to, usualPaper(), true);
    return written(arguments.to);
}

} // namespace rw
