#include "app/desktop/shared/field_view.h"

#include "app/desktop/shared/figure_text.h"
#include "core/error.h"

#include <QCoreApplication>
#include <QLocale>
#include <QRegularExpression>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr QChar noBreakSpace{u'\u00a0'};

QString tr(const char* text) { return QCoreApplication::translate("fields", text); }

QString withUnit(const QString& text, const UnitView& unit) {
    return unit.symbol.isEmpty() ? text : text + noBreakSpace + unit.symbol;
}

QString boundText(const PlanField& field, const UnitView& unit, double bound) {
    const QString text = meantText(unit.shown(bound));
    return field.kind == FieldKind::Whole ? text : withUnit(text, unit);
}

// The end of a usual range is a rough figure: its third digit means nothing.
QString rangeEnd(double shown) {
    if (shown == 0.0) return QStringLiteral("0");
    const double place = std::pow(10.0, std::floor(std::log10(std::abs(shown))) - 1.0);
    return meantText(std::round(shown / place) * place);
}

QString allowedText(const PlanField& field, const UnitView& unit) {
    const bool low = std::isfinite(field.low), high = std::isfinite(field.high);
    const QString from = low ? boundText(field, unit, field.low) : QString();
    const QString to = high ? boundText(field, unit, field.high) : QString();
    if (low && high) return (field.lowOpen ? tr("over %1 to %2") : tr("%1 to %2")).arg(from, to);
    if (low) return (field.lowOpen ? tr("over %1") : tr("at least %1")).arg(from);
    return high ? tr("at most %1").arg(to) : tr("any number");
}

} // namespace

UnitView fieldUnit(const FieldInfo& field, const Units& units) {
    return viewOf(shownFromWritten(field.dimension, units.choice()));
}

void checkTyped(const PlanField& field, const UnitView& unit, double value) {
    try {
        checkFieldValue(field, value, {});
    } catch (const InputError& error) {
        const bool outside = value < field.low || value > field.high || (field.lowOpen && value == field.low);
        if (outside) throw InputError({}, tr("Allowed is %1.").arg(allowedText(field, unit)).toStdString());
        throw;
    }
}

double typedNumber(QString text) {
    text.remove(QRegularExpression(QStringLiteral("[\\s\\x{00a0}\\x{202f}]")));
    text.replace(QChar(0x2212), u'-').replace(u',', u'.');
    bool read = false;
    const double value = QLocale::c().toDouble(text, &read);
    if (!read) throw InputError({}, tr("“%1” is no number").arg(text).toStdString());
    return value;
}

QString valueText(const PlanField& field, const Units& units, std::optional<double> value, double uncertainty) {
    if (!value) return {};
    if (field.kind == FieldKind::Choice) return QString::fromUtf8(field.choices[static_cast<std::size_t>(*value)]);
    return meantText(fieldUnit(field, units).shown(*value), uncertainty * fieldUnit(field, units).factor);
}

QString fieldText(const PlanField& field, const Units& units, const PlanInput& input) {
    if (field.kind == FieldKind::WholeList) return teethText(field.listOf(input));
    if (field.kind == FieldKind::OcvTable) return tr("%1 points").arg(input.pack.ocv.size());
    const auto uncertain = input.uncertainty.find(field.key());
    return valueText(field, units, field.get(input), uncertain == input.uncertainty.end() ? 0.0 : uncertain->second);
}

QString valueWithUnit(const PlanField& field, const Units& units, const PlanInput& input) {
    QString text = fieldText(field, units, input);
    if (text.isEmpty()) return placeholderText(field, units, input);
    if (field.kind == FieldKind::Choice || field.kind == FieldKind::OcvTable) return text;
    return withUnit(text, fieldUnit(field, units));
}

QString placeholderText(const PlanField& field, const Units& units, const PlanInput& input) {
    const std::optional<double> instead = effectiveValue(field, input);
    return instead ? valueText(field, units, instead) : tr("none");
}

void setFieldText(const PlanField& field, const Units& units, const QString& text, PlanInput& input) {
    if (field.kind == FieldKind::WholeList) {
        field.list(input) = typedTeeth(field, text);
        return;
    }
    const QString typed = text.trimmed();
    if (typed.isEmpty()) {
        if (!field.nullable) throw InputError({}, tr("A value is needed here.").toStdString());
        field.set(input, std::nullopt);
        return;
    }
    const UnitView unit = fieldUnit(field, units);
    const double value = unit.inside(typedNumber(typed));
    checkTyped(field, unit, value);
    field.set(input, value);
}

QString steppedText(const PlanField& field, const Units& units, const PlanInput& input, int steps) {
    if (!field.get) return {};
    const std::optional<double> value = effectiveValue(field, input);
    if (!value) return {};
    if (field.kind == FieldKind::Whole) {
        return QString::number(*value + steps * field.step, 'f', 0);
    }
    const QString text = field.get(input) ? fieldText(field, units, input) : placeholderText(field, units, input);
    const qsizetype point = text.indexOf(u'.');
    const int decimals = point < 0 ? 0 : std::min(4, static_cast<int>(text.size() - point - 1));
    const double stepped = typedNumber(text) + steps * std::pow(10.0, -decimals);
    return QString::number(stepped, 'f', decimals);
}

QString uncertaintyText(const PlanField& field, const Units& units, const PlanInput& input) {
    const auto found = input.uncertainty.find(field.key());
    if (found == input.uncertainty.end() || found->second == 0.0) return {};
    return meantUncertainty(found->second * fieldUnit(field, units).factor);
}

void setUncertaintyText(const PlanField& field, const Units& units, const QString& text, PlanInput& input) {
    if (text.trimmed().isEmpty()) {
        input.uncertainty.erase(field.key());
        return;
    }
    const double value = typedNumber(text) / fieldUnit(field, units).factor;
    if (!std::isfinite(value) || value < 0.0) throw InputError({}, tr("An uncertainty is 0 or more.").toStdString());
    input.uncertainty[field.key()] = value;
}

// "venue.length_m: 300 m is shorter than run_up_m …": a key alone belongs to the group named last.
QString withLabels(const QString& sentence) {
    static const QRegularExpression word(QStringLiteral("(?<![\\w.])(?:([a-z]+(?:\\.[a-z]+)?)\\.)?([a-z][A-Za-z0-9]*(?:"
                                                        "_[A-Za-z0-9]+)*)(?:\\[(\\d+)\\])?(?![\\w.]*\\w)"));
    QString plain, group;
    qsizetype done = 0;
    for (auto matches = word.globalMatch(sentence); matches.hasNext();) {
        const QRegularExpressionMatch match = matches.next();
        const bool alone = match.capturedLength(1) == 0;
        if (alone && !match.captured(2).contains(u'_')) continue; // an ordinary word
        const QString key = (alone ? group : match.captured(1)) + u'.' + match.captured(2);
        const PlanField* field = findPlanField(key.toStdString());
        if (!field) continue;
        group = QString::fromUtf8(field->group);
        plain += sentence.mid(done, match.capturedStart() - done) + QString::fromUtf8(field->label);
        if (match.capturedLength(3) > 0) plain += tr(", row %1").arg(match.captured(3).toInt() + 1);
        done = match.capturedEnd();
    }
    return plain + sentence.mid(done);
}

QString usualText(const PlanField& field, const Units& units) {
    QString words = QString::fromUtf8(field.usual);
    if (!(field.usualLow < field.usualHigh)) return words;
    const UnitView unit = fieldUnit(field, units);
    const QString range =
        tr("%1 to %2").arg(rangeEnd(unit.shown(field.usualLow)), withUnit(rangeEnd(unit.shown(field.usualHigh)), unit));
    return words.isEmpty() ? range + u'.' : range + QStringLiteral(". ") + words;
}

QString fieldHelp(const PlanField& field, const Units& units) {
    return QString::fromUtf8(field.meaning) + QStringLiteral("\n\n") + tr("Usual: %1").arg(usualText(field, units)) +
           QStringLiteral("\n") + tr("To measure: %1").arg(QString::fromUtf8(field.measure));
}

bool fieldEqual(const PlanField& field, const PlanInput& a, const PlanInput& b) {
    if (field.kind == FieldKind::WholeList) return field.listOf(a) == field.listOf(b);
    if (field.kind == FieldKind::OcvTable) return a.pack.ocv == b.pack.ocv;
    return field.get(a) == field.get(b);
}

void copyField(const PlanField& field, const PlanInput& from, PlanInput& to) {
    if (field.kind == FieldKind::WholeList)
        field.list(to) = field.listOf(from);
    else if (field.kind == FieldKind::OcvTable)
        to.pack.ocv = from.pack.ocv;
    else
        field.set(to, field.get(from));
}

std::vector<const PlanField*> differences(const PlanInput& a, const PlanInput& b) {
    std::vector<const PlanField*> changed;
    for (const FieldGroup& group : fieldGroups())
        for (const auto* list : {&group.fields, &group.more})
            for (const PlanField* field : *list)
                if (!fieldEqual(*field, a, b)) changed.push_back(field);
    return changed;
}

} // namespace rw
