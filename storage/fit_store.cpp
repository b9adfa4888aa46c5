#include "core/error.h"
#include "storage/allowed.h"
#include "storage/exchange_reader.h"
#include "storage/exchange_writer.h"

namespace rw::store {

namespace {

using nlohmann::json;

std::string parametersJson(const std::vector<FittedParameter>& parameters) {
    json out = json::array();
    for (const FittedParameter& p : parameters)
        out.push_back(json(Writer::object(p)));
    return out.dump();
}

std::vector<FittedParameter> parametersFrom(const std::string& text, const std::string& place) {
    const JsonSource source{text, place};
    std::vector<FittedParameter> out;
    for (const JsonValue& one : parseJson(source).items)
        Reader::object(source, one, {}, out.emplace_back());
    return out;
}

void allowFit(const Fit& fit) {
    allowHead(fit.name, fit.notes);
    allowText("report", fit.report, longestDocument);
    allowText("program", fit.program, longestName);
    allowCount("passes", fit.passes.size());
    if (fit.parameters.size() > 500) throw InputError("parameters", "are more than 500");
    const std::size_t square = fit.parameters.size() * fit.parameters.size();
    if (!fit.covariance.empty() && fit.covariance.size() != square)
        throw InputError("covariance", "has " + std::to_string(fit.covariance.size()) + " numbers; expected " +
                                           std::to_string(square));
    for (const double number : fit.covariance)
        allowNumber("covariance", number);
    for (const FittedParameter& p : fit.parameters) {
        allowName("parameter", p.key);
        allowText("parameter", p.whyNot, longestLine);
        allowText("parameter", p.conflict, longestLine);
        allowNumber(p.key, p.value);
        for (const std::optional<double>& number : {p.standardError, p.low, p.high, p.before, p.beforeDeviation})
            if (number) allowNumber(p.key, *number);
    }
    allowEvidence({{}, fit.learned});
}

Fit fitFrom(Connection& connection, const ItemHead& head) {
    auto out = withHead<Fit>(head);
    Query one(connection,
              "SELECT (SELECT number FROM item WHERE id = setup), parameters, covariance, report, program, gains,"
              " (SELECT number FROM item WHERE id = accepted) FROM fit WHERE item = ?",
              head.row);
    if (!one.step()) throw halfThere(head.id);
    std::string parameters, covariance, gains;
    one.take(Query::Reference{out.setup, ItemKind::Setup}, parameters, covariance, out.report, out.program, gains,
             Query::Reference{out.accepted, ItemKind::Setup});
    out.parameters = parametersFrom(parameters, toString(head.id));
    out.learned = readLearnedInput(gains, toString(head.id));
    for (const JsonValue& number : parseJson({covariance, toString(head.id)}).items)
        out.covariance.push_back(number.number);
    out.passes = connection.ids(ItemKind::Pass, "SELECT pass FROM fit_pass WHERE fit = ? ORDER BY place", head.row);
    Query taken(connection,
                "SELECT i.kind, i.number, v.key FROM fit_value v JOIN item i ON i.id = v.item WHERE v.fit = ? ORDER BY "
                "v.item, v.key",
                head.row);
    while (taken.step())
        if (const auto kind = kindFromName(taken.text(0)))
            out.taken.push_back({{*kind, taken.whole(1)}, taken.text(2)});
    return out;
}

} // namespace

Fit fit(Connection& connection, Id id) {
    static_cast<void>(rowOf(connection, id, ItemKind::Fit));
    return fitFrom(connection, head(connection, id));
}

std::vector<Fit> fits(Connection& connection, const std::optional<Id>& setup, bool retired) {
    std::vector<Fit> out;
    for (const ItemHead& head : heads(connection, ItemKind::Fit, retired)) {
        Fit one = fitFrom(connection, head);
        if (!setup || one.setup == setup) out.push_back(std::move(one));
    }
    return out;
}

Id insertFit(Connection& connection, const Fit& fit) {
    allowFit(fit);
    ItemHead head = headOf(fit);
    const Row row = insertHead(connection, head);
    const std::string parameters = parametersJson(fit.parameters);
    const std::string covariance = json(fit.covariance).dump();
    const std::string program = fit.program.empty() ? programName() : fit.program;
    const std::string gains = writeLearnedInput(fit.learned);
    connection.run(
        "INSERT INTO fit (item, setup, parameters, covariance, report, program, gains) VALUES (?, ?, ?, ?, ?, ?, ?)",
        row, rowOf(connection, fit.setup, ItemKind::Setup), parameters, covariance, fit.report, program, gains);
    for (std::size_t i = 0; i < fit.passes.size(); ++i) {
        if (fit.passes[i].kind != ItemKind::Pass) throw InputError("passes", toString(fit.passes[i]) + " is no pass");
        connection.run("INSERT INTO fit_pass (fit, place, pass) VALUES (?, ?, ?)", row, static_cast<int>(i),
                       fit.passes[i].number);
    }
    if (fit.accepted) putTaken(connection, head.id, *fit.accepted, fit.taken);
    return head.id;
}

Id addFit(Connection& connection, const Fit& fit) {
    Fit fresh = fit;
    fresh.accepted.reset();
    fresh.taken.clear();
    if (fit.setup) requireUncounted(connection, *fit.setup, fit.passes);
    return insertFit(connection, fresh);
}

void putTaken(Connection& connection, Id fit, Id accepted, const std::vector<FittedValue>& taken) {
    const Row row = rowOf(connection, fit, ItemKind::Fit);
    connection.run("UPDATE fit SET accepted = ? WHERE item = ?", rowOf(connection, accepted, ItemKind::Setup), row);
    for (const FittedValue& value : taken) {
        allowName("key", value.key);
        connection.run("INSERT INTO fit_value (fit, item, key) VALUES (?, ?, ?)", row, rowOf(connection, value.item),
                       value.key);
    }
}

} // namespace rw::store
