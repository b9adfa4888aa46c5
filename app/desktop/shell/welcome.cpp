// The page of a first start: what this is, and five ways in.
#include "app/desktop/shell/shell.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"

namespace rw {

QWidget* Shell::makeWelcome() {
    auto* page = new QWidget;
    auto* outer = new QHBoxLayout(page);
    auto* middle = new QWidget;
    middle->setFixedWidth(76 * gridStep);
    auto* column = new QVBoxLayout(middle);
    column->setSpacing(gridStep);
    lay(*outer, {slack(), middle, slack()});
    lay(*column, {slack(2), new TextLabel(tr("Plan a pass, run it, see what it says."), Type::Figure)});
    auto* what =
        paragraph(tr("Runwright computes a top-speed pass of your car before you run it, reads the log afterwards, "
                     "and remembers every setup."),
                  Type::Body, Tone::Soft);
    lay(*column, {what, gap(2 * gridStep)});

    const auto addWay = [&](const char* name, const QString& title, const QString& text, auto go) {
        auto* way = tagged(button(title, this, go), name);
        way->setFixedWidth(27 * gridStep);
        way->setAccessibleDescription(text);
        auto* label = paragraph(text, Type::Body, Tone::Soft);
        column->addLayout(laid(rowOf(2 * gridStep), {Piece(way, 0, Qt::AlignTop), Piece(label, 1, Qt::AlignVCenter)}));
        return way;
    };
    addWay("welcomeLabels", tr("New car from its labels"),
           tr("About twenty figures off the boxes, a scale and a ruler: a first plan in five minutes, and how sure."),
           &Shell::newCarFromLabels)
        ->setDefault(true);
    addWay("welcomeSample", tr("Look at the sample garage"),
           tr("Three invented cars with a season of passes. Nothing in it is real; change what you like."),
           [this] { desk_.garage.openSample(GarageSession::samplePath()); });
    addWay("welcomeNew", tr("Start your own garage"), tr("An empty file in a place that you choose."),
           &Shell::askForNewGarage);
    addWay("welcomeOpen", tr("Open a file"),
           tr("A garage, a plan, or a log. You can also drop a file anywhere on this window."), &Shell::askForFiles);
    addWay("welcomeExample", tr("Plan without a garage"),
           tr("Starts from an invented car; every figure is yours to set."), &Shell::planExample);
    lay(*column, {gap(2 * gridStep), thinRule(Qt::Horizontal)});
    auto* caution = paragraph(cautionLine(), Type::Small, Tone::Soft);
    lay(*column, {caution, slack(3)});

    return page;
}

} // namespace rw
