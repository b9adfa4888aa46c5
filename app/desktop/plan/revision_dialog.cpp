#include "app/desktop/plan/revision_dialog.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/value_table_model.h"

#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

namespace rw {

RevisionDialog::RevisionDialog(PlanSession& session, QWidget* parent)
    : QDialog(parent) {
    const BenchContent& content = session.desk().bench.content();
    setWindowTitle(tr("Keep as revision %1").arg(content.revision + 1));
    resize(70 * gridStep, 56 * gridStep);
    auto* column = dialogColumn(*this);
    column->setSpacing(gridStep);
    column->addWidget(
        new TextLabel(tr("%1, after revision %2").arg(content.name).arg(content.revision), Type::Heading));
    auto* model = new ValueTableModel(1, this);
    auto* table = new FigureTable(model, tr("What changes"), QAbstractItemView::ExtendedSelection);
    std::vector<std::vector<ValueCell>> rows;
    bool course = false;
    for (const PlanField* field : session.changes()) {
        if (!belongsToSetup(*field)) {
            course = true;
            continue;
        }
        rows.push_back({{fieldLabel(*field)},
                        {valueWithUnit(*field, session.units(), session.kept()), {}, Tone::Soft},
                        {valueWithUnit(*field, session.units(), session.input()), {}, Tone::Accent, true}});
    }
    if (rows.empty()) rows.push_back({{tr("uncertainties only")}, {QString()}, {QString()}});
    model->setRows({tr("what"), tr("was"), tr("is")}, std::move(rows));
    column->addWidget(table, 1);
    auto* note = new TextLabel(
        tr("Air, wind and venue are not part of a setup: what you changed there stays on the bench only."), Type::Small,
        Tone::Soft);
    note->setWordWrap(true);
    note->setVisible(course);
    column->addWidget(note);
    column->addWidget(new TextLabel(tr("Why"), Type::Heading));
    reason_ = new QPlainTextEdit;
    reason_->setAccessibleName(tr("Why"));
    reason_->setPlaceholderText(tr("What you want to find out, or what the last pass told you"));
    reason_->setTabChangesFocus(true);
    reason_->setFixedHeight(10 * gridStep);
    column->addWidget(reason_);
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Cancel);
    keep_ = buttons->addButton(tr("Keep revision %1").arg(content.revision + 1), QDialogButtonBox::AcceptRole);
    keep_->setDefault(true);
    keep_->setEnabled(false);
    keep_->setToolTip(tr("A revision needs a reason"));
    column->addWidget(buttons);
    connect(reason_, &QPlainTextEdit::textChanged, this, [this] { keep_->setEnabled(!reason().isEmpty()); });
    reason_->setFocus();
}

QString RevisionDialog::reason() const { return reason_->toPlainText().trimmed(); }
void RevisionDialog::setReason(const QString& reason) { reason_->setPlainText(reason); }

} // namespace rw
