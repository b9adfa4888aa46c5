#include "app/desktop/shared/limit_texts.h"

#include "plotting/look.h"

#include <QCoreApplication>

#include <array>
#include <cmath>

namespace rw {

namespace {

struct LimitRow {
    std::string_view limit;
    const char* title;
    const char* shortName;
    Dimension dimension;
    int decimals;
    const char* allowed; // %1: the allowance with its unit
    const char* advice;
};

constexpr std::array rows{
    LimitRow{"winding_limit", "Motor winding", "winding", Dimension::Temperature, 0, "limit %1",
             "Fit a smaller pinion, shorten the run-up, or start with a cooler motor."},
    LimitRow{"case_comfort", "Motor case, after soak", "motor", Dimension::Temperature, 0, "comfort %1",
             "Fit a smaller pinion, wait longer between passes, or start with a cooler motor."},
    LimitRow{"case_limit", "Motor case, limit", "motor limit", Dimension::Temperature, 0, "limit %1",
             "Do not run this: fit a smaller pinion, or start with a cooler motor."},
    LimitRow{"controller_comfort", "Controller", "controller", Dimension::Temperature, 0, "comfort %1",
             "Fit a smaller pinion, or cool the controller before the pass."},
    LimitRow{"controller_limit", "Controller, limit", "controller limit", Dimension::Temperature, 0, "limit %1",
             "Do not run this: it may shut down at speed. Fit a smaller pinion, or cool it first."},
    LimitRow{"pack_comfort", "Pack", "pack", Dimension::Temperature, 0, "comfort %1",
             "Start with a cooler pack, or wait longer between passes."},
    LimitRow{"pack_limit", "Pack, limit", "pack limit", Dimension::Temperature, 0, "limit %1",
             "Do not run this: hot cells swell and vent. Start with a cooler pack."},
    LimitRow{"pack_continuous", "Pack current", "pack current", Dimension::Current, 0, "continuous %1",
             "Fit a smaller pinion, set a pack current limit, or take a pack that is rated for more."},
    LimitRow{"pack_burst", "Pack current, burst", "pack burst", Dimension::Current, 0, "burst %1",
             "Set a pack current limit at the burst rating or less, or fit a smaller pinion."},
    LimitRow{"controller_continuous", "Controller current", "controller current", Dimension::Current, 0,
             "continuous %1", "Fit a smaller pinion, or set a motor current limit."},
    LimitRow{"controller_burst", "Controller current, burst", "controller burst", Dimension::Current, 0, "burst %1",
             "Set a motor current limit at the burst rating or less, or a longer throttle ramp."},
    LimitRow{"motor_speed", "Motor speed", "motor speed", Dimension::Rpm, 0, "at most %1",
             "Fit a larger pinion, or take fewer cells: the rotor may burst."},
    LimitRow{"electrical_speed", "Electrical speed", "electrical speed", Dimension::Rpm, 0, "at most %1",
             "Fit a larger pinion, take fewer cells, or a controller that commutates faster."},
    LimitRow{"tyre_speed", "Tyre speed", "tyre", Dimension::AngularSpeed, 0, "rated %1",
             "Do not run this: a tyre may burst. Gear shorter, or fit tyres that are rated for it."},
    LimitRow{"cell_voltage", "Lowest cell", "cells", Dimension::Voltage, 2, "at least %1",
             "Fit a smaller pinion, warm the pack, or take one with less resistance."},
    LimitRow{"front_load", "Front axle load", "front load", Dimension::Share, 0, "at least %1",
             "Do not run this: the nose may lift. Move weight forward, add downforce, or go slower."},
    LimitRow{"strip", "Strip", "strip", Dimension::Distance, 0, "of %1",
             "Shorten the run-up, brake harder, or find a longer strip: it does not stop in time."},
};

const LimitRow* rowOf(std::string_view limit) {
    for (const LimitRow& row : rows)
        if (row.limit == limit) return &row;
    return nullptr;
}

QString plain(std::string_view text) { return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size())); }
QString translated(const char* text) { return QCoreApplication::translate("limits", text); }

} // namespace

QString limitTitle(std::string_view limit) {
    const LimitRow* row = rowOf(limit);
    return row ? translated(row->title) : plain(limit);
}

QString limitShort(std::string_view limit) {
    const LimitRow* row = rowOf(limit);
    return row ? translated(row->shortName) : plain(limit);
}

QString limitAdvice(std::string_view limit) {
    const LimitRow* row = rowOf(limit);
    return row ? translated(row->advice) : QString();
}

LimitTexts limitTexts(const Margin& margin, const Units& units) {
    const LimitRow* row = rowOf(margin.limit);
    const Dimension dimension = row ? row->dimension : Dimension::Number;
    const int decimals = row ? row->decimals : 2;
    LimitTexts texts;
    texts.value = units.text(dimension, margin.value, decimals);
    const QString allowed = units.text(dimension, margin.allowed, decimals);
    texts.allowed = row ? translated(row->allowed).arg(allowed) : allowed;
    if (margin.limit == "front_load") texts.value = translated("%1 of rest").arg(texts.value);
    const double percent = std::abs(100.0 * margin.margin);
    const bool over = margin.margin < 0.0;
    if (over && percent < 0.05)
        texts.left = translated("just over");
    else
        texts.left = (over ? translated("%1 % over") : translated("%1 % left"))
                         .arg(figure(percent, over && percent < 0.95 ? 1 : 0)); // never "0 % over"
    return texts;
}

} // namespace rw
