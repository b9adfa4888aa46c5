#include "app/desktop/shared/garage_text.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_text.h"
#include "app/desktop/shared/ocv_dialog.h"
#include "core/plan/plan_fields.h"
#include "storage/own_limits.h"

#include <QComboBox>
#include <QCoreApplication>
#include <QDateTime>
#include <QHeaderView>
#include <QLocale>
#include <QRegularExpression>

#include <array>

namespace rw {

namespace {

struct KindWords {
    const char* title;
    const char* singular;
};

// In the order of ItemKind.
constexpr std::array<KindWords, 17> kindWords{{
    {QT_TRANSLATE_NOOP("garage", "Vehicles"), QT_TRANSLATE_NOOP("garage", "vehicle")},
    {QT_TRANSLATE_NOOP("garage", "Tyres"), QT_TRANSLATE_NOOP("garage", "tyre")},
    {QT_TRANSLATE_NOOP("garage", "Motors"), QT_TRANSLATE_NOOP("garage", "motor")},
    {QT_TRANSLATE_NOOP("garage", "Controllers"), QT_TRANSLATE_NOOP("garage", "controller")},
    {QT_TRANSLATE_NOOP("garage", "Packs"), QT_TRANSLATE_NOOP("garage", "pack")},
    {QT_TRANSLATE_NOOP("garage", "Gears"), QT_TRANSLATE_NOOP("garage", "gear")},
    {QT_TRANSLATE_NOOP("garage", "Venues"), QT_TRANSLATE_NOOP("garage", "venue")},
    {QT_TRANSLATE_NOOP("garage", "Limit sets"), QT_TRANSLATE_NOOP("garage", "limit set")},
    {QT_TRANSLATE_NOOP("garage", "Column maps"), QT_TRANSLATE_NOOP("garage", "column map")},
    {QT_TRANSLATE_NOOP("garage", "Checklists"), QT_TRANSLATE_NOOP("garage", "checklist")},
    {QT_TRANSLATE_NOOP("garage", "Setups"), QT_TRANSLATE_NOOP("garage", "setup")},
    {QT_TRANSLATE_NOOP("garage", "Outings"), QT_TRANSLATE_NOOP("garage", "outing")},
    {QT_TRANSLATE_NOOP("garage", "Logs"), QT_TRANSLATE_NOOP("garage", "log")},
    {QT_TRANSLATE_NOOP("garage", "Sessions"), QT_TRANSLATE_NOOP("garage", "session")},
    {QT_TRANSLATE_NOOP("garage", "Passes"), QT_TRANSLATE_NOOP("garage", "pass")},
    {QT_TRANSLATE_NOOP("garage", "Plans"), QT_TRANSLATE_NOOP("garage", "plan")},
    {QT_TRANSLATE_NOOP("garage", "Fits"), QT_TRANSLATE_NOOP("garage", "fit")},
}};

QString tr(const char* text) { return QCoreApplication::translate("garage", text); }

QDateTime momentOf(const std::string& when) {
    QDateTime moment = QDateTime::fromString(QString::fromStdString(when), Qt::ISODate);
    if (moment.isValid() && moment.timeSpec() == Qt::LocalTime && QString::fromStdString(when).size() <= 16)
        moment.setTimeSpec(Qt::UTC);
    return moment;
}

QString quantityText(const std::string& key, double number, const Units& units, bool difference) {
    const PlanField* field = findPlanField(key);
    if (!field) return QLocale::c().toString(number, 'g', 6);
    const UnitView unit = fieldUnit(*field, units);
    if (!difference) return valueText(*field, units, number);
    return significantText(number * unit.factor, 2);
}

} // namespace

QString counted(std::size_t count, const QString& one, const QString& many) {
    return QString::number(count) + u' ' + (count == 1 ? one : many);
}

QString kindTitle(ItemKind kind) { return tr(kindWords[static_cast<std::size_t>(kind)].title); }
QString kindSingular(ItemKind kind) { return tr(kindWords[static_cast<std::size_t>(kind)].singular); }

QString dateText(const std::string& when) {
    const QDateTime moment = momentOf(when);
    return moment.isValid() ? QLocale::c().toString(moment.date(), QStringLiteral("d MMMM yyyy"))
                            : QString::fromStdString(when);
}

std::optional<double> secondsOf(const std::string& when) {
    const QDateTime moment = momentOf(when);
    if (!moment.isValid()) return std::nullopt;
    return static_cast<double>(moment.toMSecsSinceEpoch()) / 1000.0;
}

QString excerptText(const std::string& excerpt) {
    QString text = QString::fromStdString(excerpt).simplified();
    text.replace(QChar(2), QStringLiteral("“"));
    text.replace(QChar(3), QStringLiteral("”"));
    return text;
}

QString keyLabel(const std::string& key) {
    if (const PlanField* field = findPlanField(key)) return fieldLabel(*field);
    if (key == "gears.count") return tr("how many");
    for (const char* part :
         {"motor", "controller", "pack", "tyre", "pinion", "spur"}) // another one, not another value of it
        if (key == part) return tr("%1 fitted").arg(QLatin1String(part));
    QString text = QString::fromStdString(key.substr(key.find('.') + 1));
    if (key.starts_with("review.")) { // named as in code: "restThrottle" is "rest throttle"
        static const QRegularExpression capital(QStringLiteral("([A-Z])"));
        return text.replace(capital, QStringLiteral(" \\1")).toLower();
    }
    return text.replace(QLatin1Char('_'), QLatin1Char(' '));
}

QString keyHelp(const std::string& key, const Units& units) {
    if (const PlanField* field = findPlanField(key)) return fieldHelp(*field, units);
    for (const ThresholdField& field : thresholdFields())
        if (key == thresholdKey(field.name))
            return tr("Threshold of the findings: %1. Usual: %2 %3")
                .arg(QString::fromUtf8(field.reason))
                .arg(field.defaultValue)
                .arg(QString::fromUtf8(field.unit));
    return {};
}

bool keyFits(const PlanField& field, ItemKind kind) {
    const std::string_view group = field.group;
    switch (kind) {
    case ItemKind::Vehicle:
        return group == "vehicle";
    case ItemKind::Tyre:
        return group == "tyre";
    case ItemKind::Motor:
        return group == "motor";
    case ItemKind::Controller:
        return group.starts_with("controller");
    case ItemKind::Pack:
        return group == "pack";
    case ItemKind::Venue:
        return group == "venue" || group == "air" || group == "wind";
    case ItemKind::Gear:
        return group == "gears" && field.kind != FieldKind::WholeList;
    case ItemKind::LimitSet:
        return true;
    default:
        return false;
    }
}

QString valueText(const std::string& key, const Value& value, const Units& units) {
    if (!value.number) {
        const PlanField* field = findPlanField(key);
        if (field && field->kind == FieldKind::OcvTable && !value.text.empty())
            return tr("%1 points").arg(ocvFromText(value.text).size());
        if (field && field->kind == FieldKind::WholeList && !value.text.empty())
            return teethText(teethFromText(value.text));
        return value.text.empty() ? QStringLiteral("–") : QString::fromStdString(value.text);
    }
    QString text = quantityText(key, *value.number, units, false);
    if (const PlanField* field = findPlanField(key)) {
        const UnitView unit = fieldUnit(*field, units);
        if (value.source == Source::Fitted && value.uncertainty.value_or(0.0) > 0.0)
            text = fittedText(unit.shown(*value.number), *value.uncertainty * unit.factor);
        const QString symbol = unit.symbol;
        if (!symbol.isEmpty()) text += QChar(QChar::Nbsp) + symbol;
    }
    return text;
}

QString valueText(const std::string& key, const std::optional<Value>& value, const Units& units) {
    return value ? valueText(key, *value, units) : QStringLiteral("–");
}

std::vector<std::string> keysInOrder(const Values& values) {
    std::vector<std::string> keys;
    for (const PlanField& field : planFields())
        if (values.contains(field.key())) keys.push_back(field.key());
    for (const auto& [key, value] : values)
        if (!findPlanField(key)) keys.push_back(key);
    return keys;
}

ValueRows valueRows(const Values& values, const Units& units) {
    ValueRows rows;
    for (const std::string& key : keysInOrder(values)) {
        const Value& value = values.find(key)->second;
        const QString spread =
            value.uncertainty ? QStringLiteral("± ") + quantityText(key, *value.uncertainty, units, true) : QString();
        QString source = QString::fromUtf8(sourceName(value.source));
        if (!value.note.empty()) source += QStringLiteral(" · ") + QString::fromStdString(value.note);
        const bool estimate = value.source == Source::Estimated; // never looks like a fact
        rows.push_back(
            {{keyLabel(key), QString::fromStdString(key), Tone::Ink, false, keyHelp(key, units)},
             {source, {}, Tone::Soft, false, {}},
             {valueText(key, value, units), rawOf(value.number), estimate ? Tone::Soft : Tone::Ink, false, source},
             {spread, {}, Tone::Soft, false, {}}});
    }
    return rows;
}

void addItem(QComboBox& box, const std::string& name, Id id) {
    box.addItem(QString::fromStdString(name), QString::fromStdString(toString(id)));
}

std::optional<Id> chosenId(const QComboBox& box) { return idFromText(box.currentData().toString().toStdString()); }

void fitToRows(FigureTable& table, std::optional<int> wide) {
    if (wide) {
        table.horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
        table.horizontalHeader()->setSectionResizeMode(*wide, QHeaderView::Stretch);
    }
    int height = table.horizontalHeader()->sizeHint().height() + 2 * table.frameWidth() + 2;
    for (int row = 0; row < table.model()->rowCount(); ++row)
        height += table.rowHeight(row);
    table.setFixedHeight(height);
    table.setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

} // namespace rw
