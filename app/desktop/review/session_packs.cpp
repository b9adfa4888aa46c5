#include "app/desktop/review/session_packs.h"

#include "app/desktop/shared/labels.h"

#include <QComboBox>
#include <QFormLayout>
#include <QScrollArea>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t rowsInSight = 5;

QString packText(const Part& pack) {
    QString text = QString::fromStdString(pack.name);
    const auto cells = pack.values.find("pack.series");
    if (cells != pack.values.end() && cells->second.number)
        text += SessionPacks::tr(" · %1 cells").arg(static_cast<int>(*cells->second.number));
    if (pack.retired) text += SessionPacks::tr(" · retired");
    return text;
}

QString sessionText(std::size_t index, const ReviewSession& session) {
    QString text = SessionPacks::tr("Session %1").arg(index + 1);
    if (session.cells) text += SessionPacks::tr(" · %1 cells").arg(*session.cells);
    return text;
}

} // namespace

SessionPacks::SessionPacks(const std::vector<ReviewSession>& sessions, const std::vector<Part>& packs, QWidget* parent)
    : QWidget(parent) {
    auto* list = new QWidget;
    auto* form = new QFormLayout(list);
    form->setContentsMargins(0, 0, 0, 0);
    form->setHorizontalSpacing(2 * gridStep);
    form->setVerticalSpacing(gridStep);
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        auto* box = new QComboBox;
        box->addItem(tr("the setup’s pack"), QString());
        for (const Part& pack : packs)
            box->addItem(packText(pack), QString::fromStdString(toString(pack.id)));
        box->setAccessibleName(tr("Pack of session %1").arg(i + 1));
        form->addRow(sessionText(i, sessions[i]), box);
        boxes_.push_back(box);
    }
    auto* scroll = new QScrollArea;
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setWidgetResizable(true);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(list);
    const int row = boxes_.empty() ? 0 : boxes_.front()->sizeHint().height() + gridStep;
    scroll->setFixedHeight(row * static_cast<int>(std::min(rowsInSight, boxes_.size())));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(scroll);
}

void SessionPacks::choose(std::size_t session, std::optional<Id> pack) {
    if (session >= boxes_.size()) return;
    const QString key = pack ? QString::fromStdString(toString(*pack)) : QString();
    boxes_[session]->setCurrentIndex(std::max(0, boxes_[session]->findData(key)));
}

std::vector<std::optional<Id>> SessionPacks::chosen() const {
    std::vector<std::optional<Id>> packs;
    for (const QComboBox* box : boxes_)
        packs.push_back(idFromText(box->currentData().toString().toStdString()));
    return packs;
}

} // namespace rw
