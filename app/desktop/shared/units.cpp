#include "app/desktop/shared/units.h"

#include "plotting/look.h"

#include <algorithm>
#include <cmath>

namespace rw {

constexpr QChar noBreakSpace{u'\u00a0'};

std::vector<double> UnitView::shown(const std::vector<double>& values) const {
    std::vector<double> out(values.size());
    std::ranges::transform(values, out.begin(), [this](double value) { return shown(value); });
    return out;
}

UnitView viewOf(const ShownUnit& unit) {
    return {QString::fromUtf8(unit.symbol), unit.factor, unit.offset, unit.decimals};
}

UnitView Units::of(Dimension dimension) const { return viewOf(shownUnit(dimension, choice_)); }

QString Units::figure(Dimension dimension, std::optional<double> value, int decimals) const {
    if (!value || !std::isfinite(*value)) return QStringLiteral("–");
    const UnitView view = of(dimension);
    return rw::figure(view.shown(*value), decimals < 0 ? view.decimals : decimals);
}

QString Units::text(Dimension dimension, std::optional<double> value, int decimals) const {
    const QString symbol = of(dimension).symbol;
    const QString digits = figure(dimension, value, decimals);
    return symbol.isEmpty() || !value ? digits : digits + noBreakSpace + symbol;
}

std::shared_ptr<const Units> Units::copy() const {
    auto copied = std::make_shared<Units>();
    copied->choice_ = choice_;
    return copied;
}

QString shareText(double share) { return rw::figure(100.0 * share, 0) + QStringLiteral(" %"); }

QString spanText(double low, double high, int decimals) {
    return rw::figure(low, decimals) + QStringLiteral(" … ") + rw::figure(high, decimals);
}

QString significantText(double value, int digits) {
    if (value == 0.0) return QStringLiteral("0");
    const int magnitude = static_cast<int>(std::floor(std::log10(std::abs(value))));
    return rw::figure(value, std::max(0, digits - 1 - magnitude));
}

} // namespace rw
