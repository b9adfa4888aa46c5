#include "app/desktop/review/taught_rows.h"

#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/plan_words.h"
#include "core/plan/plan_fields.h"

#include <QCoreApplication>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace rw {

namespace {

constexpr double normal95 = 1.96;   // standard deviations to either side that hold 95 %
constexpr double mostRisk = 0.1;    // of breaking a limit
constexpr double tinyChance = 0.01; // told as "under 1 %"
constexpr double airBeside = 0.1;   // of an axis, on either side of what it holds

QString say(const char* text) { return QCoreApplication::translate("Taught", text); }

Range widened(Range range) {
    const double air = std::max(airBeside * range.span(), 1e-9);
    return {range.from - air, range.to + air};
}

// As many decimals as the uncertainty deserves: two of its digits.
int decimalsFor(double uncertainty) {
    constexpr int most = 8;
    if (!(uncertainty > 0.0)) return 2;
    return std::clamp(1 - static_cast<int>(std::floor(std::log10(uncertainty))), 0, most);
}

struct Shown { // a key in the unit that the person chose
    QString label, symbol, help;
    UnitView unit;
};

Shown shownKey(const std::string& key, const Units& units) {
    const PlanField* field = findPlanField(key);
    if (field == nullptr) return {QString::fromStdString(key), {}, {}, {}};
    const UnitView unit = fieldUnit(*field, units);
    return {fieldLabel(*field), unit.symbol, fieldHelp(*field, units), unit};
}

QString chance(double probability) {
    if (probability > 0.0 && probability < tinyChance) return say("< 1 %");
    if (probability < 1.0 && probability > 1.0 - tinyChance) return say("> 99 %");
    return figure(probability * 100.0, 0) + QStringLiteral("\u00a0%");
}

std::vector<ValueCell> parameterRow(const LearnedParameter& p, const Units& units) {
    const Shown key = shownKey(p.key, units);
    const auto shown = [&](double value, int decimals) { return figure(key.unit.shown(value), decimals); };
    const double after = p.standardError * key.unit.factor, before = p.priorUncertainty * key.unit.factor;
    const int decimals = decimalsFor(after);
    const Tone tone = p.determined ? Tone::Ink : Tone::Soft;
    QString verdict =
        p.determined ? say("● determined") : QStringLiteral("○ ") + QString::fromStdString(p.whyNot.value_or(""));
    if (p.conflict) verdict += QStringLiteral(" ▲ ") + withLabels(QString::fromStdString(*p.conflict));
    return {{key.label, QString::fromStdString(p.key), tone, false, key.help},
            {shown(p.priorValue, decimals), p.priorValue, Tone::Soft},
            {figure(before, decimals), p.priorUncertainty, Tone::Soft},
            {},
            {shown(p.value, decimals), p.value, tone, p.determined},
            {figure(after, decimals), p.standardError, tone},
            {key.symbol, {}, Tone::Soft},
            {withLabels(verdict), {}, p.conflict ? Tone::Warn : tone}};
}

BarCell parameterBar(const LearnedParameter& p) {
    const double spread = normal95 * p.priorUncertainty;
    const Range pale{p.priorValue - spread, p.priorValue + spread};
    return {.axis = widened({std::min(pale.from, p.low), std::max(pale.to, p.high)}),
            .pale = pale,
            .solid = Range{p.low, p.high},
            .tick = p.priorValue,
            .grey = !p.determined};
}

void addForetold(TaughtTable& table, const ForetoldFigure& figure, const Units& units) {
    const PassFigure& row = *findPassFigure(figure.name);
    const UnitView unit = figureView(row, units);
    int decimals = unit.decimals;
    const double low = unit.shown(figure.low), high = unit.shown(figure.high);
    const bool outside = figure.inside && !*figure.inside;
    if (outside && figure.seen) { // as fine as it takes to see that it is outside
        const double value = unit.shown(*figure.seen), by = value > high ? value - high : low - value;
        while (decimals < 4 && by * std::pow(10.0, decimals) < 0.5)
            ++decimals;
    }
    QString seen = QStringLiteral("–"), verdict;
    BarCell bar;
    bar.solid = Range{low, high};
    bar.axis = widened(*bar.solid);
    if (figure.seen) {
        const double value = unit.shown(*figure.seen);
        seen = rw::figure(value, decimals);
        bar.diamond = value;
        bar.outside = outside;
        bar.axis = widened({std::min(low, value), std::max(high, value)});
        if (outside)
            verdict = (value > high ? say("%1 above") : say("%1 below"))
                          .arg(rw::figure(value > high ? value - high : low - value, decimals));
    }
    table.add({{QString::fromUtf8(row.brief())},
               {unit.symbol, {}, Tone::Soft},
               {spanText(low, high, decimals), figure.mean, Tone::Soft},
               {},
               {seen, rawOf(figure.seen), outside ? Tone::Warn : Tone::Ink, true},
               {verdict, {}, Tone::Warn}},
              bar);
}

std::vector<ValueCell> changeRow(const NextChange& change, const Units& units) {
    const bool risky = change.limitProbability > mostRisk;
    const Tone tone = risky ? Tone::Soft : Tone::Ink;
    const UnitView speed = units.of(Dimension::Speed);
    const auto& band = change.zoneMean;
    const QString gain = change.gain == 0.0 ? QStringLiteral("–")
                                            : (change.gain > 0.0 ? QStringLiteral("+") : QString()) +
                                                  figure(change.gain * speed.factor, 1);
    QString tightest = QStringLiteral("–");
    if (!change.tightestLimit.empty())
        tightest = limitShort(change.tightestLimit) + QLatin1Char(' ') + figure(change.tightestMargin * 100.0, 0) +
                   QStringLiteral("\u00a0%");
    return {
        {QString::fromStdString(change.change), {}, tone, !risky, {}},
        {},
        {band ? figure(speed.shown(band->mean), 1) : QStringLiteral("–"), {}, tone, !risky},
        {band ? spanText(speed.shown(band->low), speed.shown(band->high), 1) : QString(), {}, Tone::Soft},
        {gain, change.gain, tone},
        {change.targetProbability ? chance(*change.targetProbability) : QStringLiteral("–"), {}, tone},
        {(risky ? QStringLiteral("▲ ") : QString()) + chance(change.limitProbability), {}, risky ? Tone::Warn : tone},
        {tightest, {}, Tone::Soft}};
}

} // namespace

TaughtTable parameterRows(const LearnReport& report, const Units& units) {
    TaughtTable table;
    table.header = {say("value"), say("before"),       QStringLiteral("±"), QString(),
                    say("after"), QStringLiteral("±"), QString(),           QString()};
    table.barColumn = 3;
    std::vector<int> order(report.parameters.size());
    std::iota(order.begin(), order.end(), 0);
    const auto narrowed = [&](int i) {
        const LearnedParameter& p = report.parameters[static_cast<std::size_t>(i)];
        return std::pair(!p.determined, p.priorUncertainty > 0.0 ? p.standardError / p.priorUncertainty : 1.0);
    };
    std::ranges::stable_sort(order, [&](int a, int b) { return narrowed(a) < narrowed(b); });
    std::map<QString, int> told; // motor and pack both have a resistance
    for (const LearnedParameter& p : report.parameters)
        ++told[shownKey(p.key, units).label];
    for (const int i : order) {
        const LearnedParameter& p = report.parameters[static_cast<std::size_t>(i)];
        std::vector<ValueCell> row = parameterRow(p, units);
        QString& name = row.front().text;
        if (told[name] > 1) name.prepend(QString::fromStdString(p.key.substr(0, p.key.find('.')) + " "));
        table.add(std::move(row), parameterBar(p), i);
    }
    return table;
}

TaughtTable foretoldRows(const Foretold& foretold, const Units& units) {
    TaughtTable table;
    table.header = {say("figure"), QString(), say("nine in ten"), QString(), say("seen"), QString()};
    table.barColumn = 3;
    for (const ForetoldFigure& figure : foretold.figures)
        addForetold(table, figure, units);
    return table;
}

TaughtTable changeRows(const NextReport& next, std::optional<double> target, const Units& units) {
    TaughtTable table;
    const UnitView speed = units.of(Dimension::Speed);
    table.header = {say("change"),
                    QString(),
                    say("zone, %1").arg(speed.symbol),
                    say("nine in ten"),
                    say("gain"),
                    target ? say("makes %1").arg(figure(speed.shown(*target), 0)) : say("target"),
                    say("breaks a limit"),
                    say("tightest, left")};
    table.barColumn = 1;
    std::optional<Range> all;
    const auto hold = [&all](double low, double high) {
        all = all ? Range{std::min(all->from, low), std::max(all->to, high)} : Range{low, high};
    };
    for (const NextChange& change : next.changes)
        if (change.zoneMean) hold(change.zoneMean->low, change.zoneMean->high);
    if (target && all) hold(*target, *target);
    bool divided = false;
    for (std::size_t i = 0; i < next.changes.size(); ++i) {
        const NextChange& change = next.changes[i];
        const bool risky = change.limitProbability > mostRisk;
        if (risky && !std::exchange(divided, true))
            table.add({{say("more than one in ten to break a limit"), {}, Tone::Soft}}, {}, -1);
        BarCell bar;
        if (all) bar.axis = widened(*all);
        bar.target = target;
        bar.grey = risky;
        if (change.zoneMean) {
            bar.solid = Range{change.zoneMean->low, change.zoneMean->high};
            bar.tick = change.zoneMean->mean;
        }
        table.add(changeRow(change, units), bar, static_cast<int>(i));
    }
    return table;
}

TaughtTable residualRows(const LearnReport& report, const Units& units) {
    TaughtTable table;
    table.header = {say("quantity"), say("rows"), say("count as"), say("off by"), say("noise"), QString()};
    table.barColumn = -1;
    for (const LearnedResidual& one : report.residuals) {
        const QuantityView view = viewOf(one.quantity, units);
        const int decimals = std::max(view.unit.decimals, decimalsFor(one.noise * view.unit.factor));
        table.add({{view.name},
                   {figure(static_cast<double>(one.count), 0), static_cast<int>(one.count)},
                   {figure(one.effectiveCount, 0), one.effectiveCount},
                   {figure(one.rms * view.unit.factor, decimals), one.rms},
                   {figure(one.noise * view.unit.factor, decimals), one.noise},
                   {view.unit.symbol, {}, Tone::Soft}},
                  {});
    }
    return table;
}

QString dayWords(const LearnReport& report, const Units& units) {
    QStringList parts;
    for (const LearnedNuisance& one : report.nuisances) {
        const PlanField* field = findPlanField(one.name);
        const UnitView unit = field != nullptr    ? fieldUnit(*field, units)
                              : one.unit == "m/s" ? units.of(Dimension::Speed)
                                                  : UnitView{QString::fromStdString(one.unit), 1.0, 0.0, 2};
        const double error = one.standardError * unit.factor;
        QString text = field != nullptr ? fieldLabel(*field) : QString::fromStdString(one.name);
        if (one.pass) text += say(", pass %1").arg(*one.pass + 1);
        text += QLatin1Char(' ') + figure(unit.shown(one.value), decimalsFor(error)) + QStringLiteral(" ± ") +
                figure(error, decimalsFor(error));
        if (!unit.symbol.isEmpty()) text += QChar(QChar::Nbsp) + unit.symbol;
        parts << text;
    }
    return parts.isEmpty() ? QString() : say("Of the day, not carried on: %1").arg(parts.join(QStringLiteral(" · ")));
}

std::vector<std::string> leftOutWords(const LearnReport& report) {
    std::vector<std::pair<std::string, QStringList>> reasons; // in the order of the passes
    for (const LeftOutPass& left : report.passesLeftOut) {
        auto same = std::ranges::find(reasons, left.why, &std::pair<std::string, QStringList>::first);
        if (same == reasons.end()) same = reasons.insert(reasons.end(), {left.why, {}});
        same->second << QString::number(left.pass.pass + 1);
    }
    std::vector<std::string> out;
    out.reserve(reasons.size());
    for (const auto& [why, passes] : reasons)
        out.push_back((passes.size() == 1 ? say("Pass %1 left out: %2") : say("Passes %1 left out: %2"))
                          .arg(passes.join(QStringLiteral(", ")), QString::fromStdString(why))
                          .toStdString());
    return out;
}

} // namespace rw
