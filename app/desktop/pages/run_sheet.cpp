#include "app/desktop/pages/run_sheet.h"

#include "app/desktop/pages/strip_drawing.h"
#include "app/desktop/shared/caution_texts.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/hold_text.h"
#include "app/desktop/shared/limit_texts.h"
#include "core/plan/plan.h"
#include "core/plan/plan_figures.h"
#include "core/plan/spread.h"

#include <QCoreApplication>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t sheetRuns = 2000;
constexpr std::uint64_t sheetSeed = 1;
constexpr int stripWidth = 660, stripHeight = 92; // logical pixels of the layout
constexpr double stripScale = 4.0;

QString words(const char* text) { return QCoreApplication::translate("pages", text); }

const SpreadFigure* figureOf(const SpreadResult& spread, std::string_view name) {
    const auto found =
        std::find_if(spread.figures.begin(), spread.figures.end(), [name](const auto& f) { return f.name == name; });
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
        , page_(words(QT_TRANSLATE_NOOP("pages", "Run sheet: %1")).arg(name())) {
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
        QString text = content_.name.isEmpty() ? words(QT_TRANSLATE_NOOP("pages", "plan")) : content_.name;
        if (content_.revision > 0) text += words(QT_TRANSLATE_NOOP("pages", ", revision %1")).arg(content_.revision);
        if (content_.changes > 0) text += words(QT_TRANSLATE_NOOP("pages", " with changes not kept"));
        return text;
    }
    [[nodiscard]] QString speed(std::optional<double> v) const { return units_.text(Dimension::Speed, v, 1); }
    // A value of the plan as its field on the screen shows it.
    [[nodiscard]] QString shown(const char* key) const { return valueWithUnit(*findPlanField(key), units_, in_); }
    [[nodiscard]] QString allowed(std::string_view limit, Dimension dimension, int decimals) const {
        const auto found = std::find_if(plan_.margins.begin(), plan_.margins.end(),
                                        [limit](const Margin& margin) { return margin.limit == limit; });
        return found == plan_.margins.end() ? QStringLiteral("–") : units_.text(dimension, found->allowed, decimals);
    }
    [[nodiscard]] QString heat(std::optional<double> c) const { return units_.text(Dimension::Temperature, c, 0); }

    void addHead() {
        QStringList beside;
        if (!content_.venue.isEmpty()) beside << content_.venue;
        beside << heat(in_.air.temperature_C);
        const double head = headWind(in_.wind.speed_mps, in_.wind.from_deg, in_.venue.heading_deg);
        if (in_.wind.speed_mps > 0.0)
            beside << (head >= 0.0 ? words(QT_TRANSLATE_NOOP("pages", "head wind %1"))
                                   : words(QT_TRANSLATE_NOOP("pages", "tail wind %1")))
                          .arg(speed(std::abs(head)));
        page_.title(words(QT_TRANSLATE_NOOP("pages", "Run sheet: %1")).arg(name()), beside.join(QStringLiteral(" · ")));
        QString text;
        if (in_.drive.target_mps)
            text = words(QT_TRANSLATE_NOOP("pages", "Target %1. ")).arg(speed(*in_.drive.target_mps));
        if (first_.zoneMean) {
            text += words(QT_TRANSLATE_NOOP("pages", "Expected %1 through %2"))
                        .arg(speed(*first_.zoneMean), shown("venue.timed_m"));
            if (const SpreadFigure* f = figureOf(spread_, "zone_mean_mps"))
                text += words(QT_TRANSLATE_NOOP("pages", ", nine times in ten between %1 and %2"))
                            .arg(units_.figure(Dimension::Speed, *f->p05, 1), speed(*f->p95));
            text += QLatin1Char('.');
        } else {
            text += words(QT_TRANSLATE_NOOP("pages", "This plan does not complete its pass: do not run it."));
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
                      words(QT_TRANSLATE_NOOP("pages", "The strip to scale, with cones at start, zone and standstill")),
                      stripWidth);
    }

    void addSettings() {
        const auto& cut = in_.controller.cutoff;
        const QString cutoff = cut.mode == CutoffMode::Off
                                   ? words(QT_TRANSLATE_NOOP("pages", "off"))
                                   : words(cut.mode == CutoffMode::Soft ? QT_TRANSLATE_NOOP("pages", "soft, %1 a cell")
                                                                        : QT_TRANSLATE_NOOP("pages", "hard, %1 a cell"))
                                         .arg(units_.text(Dimension::Voltage, cut.cell_V));
        page_.heading(words(QT_TRANSLATE_NOOP("pages", "Set before you go")));
        page_.fields(
            {{words(QT_TRANSLATE_NOOP("pages", "pinion / spur")),
              QStringLiteral("%1 / %2").arg(in_.gears.pinion_teeth).arg(in_.gears.spur_teeth)},
             {words(QT_TRANSLATE_NOOP("pages", "pack")), packText(content_)},
             {words(QT_TRANSLATE_NOOP("pages", "pack charge and temperature")),
              shown("pack.charge") + QStringLiteral(", ") + heat(in_.start.pack_C.value_or(in_.air.temperature_C))},
             {words(QT_TRANSLATE_NOOP("pages", "voltage cutoff")), cutoff},
             {words(QT_TRANSLATE_NOOP("pages", "throttle end point")), shown("controller.endpoint")},
             {words(QT_TRANSLATE_NOOP("pages", "throttle ramp")), shown("drive.throttle_ramp_s")},
             {words(QT_TRANSLATE_NOOP("pages", "brake")), shown("drive.brake_weight_fraction")},
             {words(QT_TRANSLATE_NOOP("pages", "timing")), shown("motor.timing_deg")},
             {words(QT_TRANSLATE_NOOP("pages", "rollout")), units_.text(Dimension::Length, plan_.rollout, 1)}},
            3);
    }

    void addFigures() {
        std::vector<QStringList> rows{
            {words(QT_TRANSLATE_NOOP("pages", "figure")), words(QT_TRANSLATE_NOOP("pages", "expected")),
             words(QT_TRANSLATE_NOOP("pages", "nine in ten")), words(QT_TRANSLATE_NOOP("pages", "stop the day if"))}};
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
        const auto under = [&](const QString& text) { return words(QT_TRANSLATE_NOOP("pages", "under %1")).arg(text); };
        const auto over = [&](const QString& text) { return words(QT_TRANSLATE_NOOP("pages", "over %1")).arg(text); };
        add("zone_mean_mps", zone ? under(speed(*zone->p05)) : QStringLiteral("–"));
        const auto rating = in_.pack.burst_c_rate ? in_.pack.burst_c_rate : in_.pack.continuous_c_rate;
        add("peak_pack_A",
            rating ? over(units_.text(Dimension::Current, *rating * in_.pack.capacity_Ah, 0)) : QStringLiteral("–"));
        add("min_cell_V", under(allowed("cell_voltage", Dimension::Voltage, 2)));
        add("case_soak_peak_C", over(heat(in_.motor.comfort_C)));
        add("controller_peak_C", over(heat(in_.controller.comfort_C)));
        add("stop_at_m", over(units_.text(Dimension::Distance, in_.venue.length_m, 0)));
        page_.heading(words(QT_TRANSLATE_NOOP("pages", "Expect")));
        page_.table(rows, 1);
    }

    void addPasses() {
        QString text = words(QT_TRANSLATE_NOOP("pages", "At most %1 passes in a row, %2 apart"))
                           .arg(plan_.passesUntilLimit)
                           .arg(units_.text(Dimension::Time, in_.drive.turn_around_s, 0));
        if (plan_.passesUntilLimit == 0)
            text =
                words(QT_TRANSLATE_NOOP("pages", "Not even one pass stays within the limits: change the setup first"));
        if (plan_.shortestWait_s.value_or(0) > 0)
            text += words(QT_TRANSLATE_NOOP("pages", "; a second pass needs a wait of %1 s or more"))
                        .arg(*plan_.shortestWait_s);
        page_.paragraph(text + QLatin1Char('.'));
        QStringList broken;
        for (const Margin& margin : plan_.margins)
            if (margin.margin < 0.0) broken << limitTitle(margin.limit).toLower();
        if (!broken.isEmpty())
            page_.paragraph(words(QT_TRANSLATE_NOOP("pages", "Broken in this plan: %1. Do not run it like this."))
                                .arg(broken.join(QStringLiteral("; "))));
    }

    void addLists() {
        QStringList go{words(QT_TRANSLATE_NOOP("pages", "strip closed, permission in hand")),
                       words(QT_TRANSLATE_NOOP("pages", "spotters at both ends, people behind the line")),
                       words(QT_TRANSLATE_NOOP("pages", "failsafe tried: transmitter off, the car brakes")),
                       words(QT_TRANSLATE_NOOP("pages", "stopping distance clear to its end"))};
        go << (in_.tyre.max_speed_radps
                   ? words(QT_TRANSLATE_NOOP("pages", "tyres without cuts, rated over %1 rad/s"))
                         .arg(first_.peakWheelSpeed, 0, 'f', 0)
                   : words(QT_TRANSLATE_NOOP("pages", "tyres without cuts; their rating is not known")));
        go << words(QT_TRANSLATE_NOOP("pages", "wheel nuts, gear mesh, body pins"))
           << words(QT_TRANSLATE_NOOP("pages", "pack warm, without swelling, full"));
        const QStringList after{words(QT_TRANSLATE_NOOP("pages", "pack out, check by hand for heat")),
                                words(QT_TRANSLATE_NOOP("pages", "motor reading at rest and after one minute")),
                                words(QT_TRANSLATE_NOOP("pages", "log saved")),
                                words(QT_TRANSLATE_NOOP("pages", "tyres looked at"))};
        page_.checklists({{words(QT_TRANSLATE_NOOP("pages", "Go only if")), go},
                          {words(QT_TRANSLATE_NOOP("pages", "After the pass")), after}});
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

} // namespace rw
