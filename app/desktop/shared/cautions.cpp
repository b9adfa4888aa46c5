#include "app/desktop/shared/cautions.h"

#include <QCoreApplication>

namespace rw {

namespace {

QString tr(const char* text) { return QCoreApplication::translate("cautions", text); }

} // namespace

QString shortCaution() {
    return tr("An estimate, not a promise. Closed course with permission, spotters out, failsafe tested. "
              "Makers’ limits and local law come first.");
}

QStringList cautions() {
    return {
        tr("Every prediction here is an estimate from the figures that you entered; the car may do otherwise."),
        tr("Run on a closed course, with permission, away from people, animals and traffic."),
        tr("Post spotters who can see the whole strip and can call the pass off."),
        tr("Keep the whole stopping distance clear, and room beyond it."),
        tr("Test the radio’s failsafe before the first pass: with the transmitter off, the car must brake or roll "
           "out."),
        tr("Keep wheel speed within the tyre’s rating; look at glue and carcass before each pass."),
        tr("Charge and store packs as their maker says, never unwatched; let a hot or hurt pack rest outdoors."),
        tr("Motor, controller and pack stay hot after a pass; let them cool before you touch or charge them."),
        tr("Local law and the makers’ limits come first."),
    };
}

} // namespace rw
