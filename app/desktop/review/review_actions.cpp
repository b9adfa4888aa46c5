#include "app/desktop/review/review_actions.h"

#include "app/desktop/pages/page_printer.h"
#include "app/desktop/review/import_dialog.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/review_charts.h"
#include "app/desktop/review/review_edit.h"
#include "app/desktop/review/saying_dialogs.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QInputDialog>

#include <algorithm>

namespace rw {

namespace {

const QString folderSetting = QStringLiteral("review/folder");

void show(QDialog& dialog) {
    dialog.setAttribute(Qt::WA_DeleteOnClose);
    dialog.open();
}

} // namespace

ReviewActions::ReviewActions(ReviewDesk& review, QWidget* window)
    : review_(review)
    , window_(window)
    , keeper_(new LogKeeper(review, this)) {
    makeFile();
    makePrinting();
    makeEdit();
    makeOwn();
    connect(&review, &ReviewDesk::dataChanged, this, &ReviewActions::enable);
    connect(&review, &ReviewDesk::passChosen, this, &ReviewActions::enable);
    connect(&review.axis(), &AxisLink::cursorChanged, this, &ReviewActions::enable);
    connect(&review.desk().garage, &GarageSession::opened, this, &ReviewActions::enable);
    enable();
}

QAction* ReviewActions::add(QList<QAction*>& menu, const QString& text, const QString& help,
                            const std::function<void()>& action) {
    return menu.emplace_back(rw::action(this, text, help, action));
}

void ReviewActions::makeFile() {
    add(file_, tr("Open &log…"), tr("A delimited text log, or a track of measured speed"), [this] { chooseFiles(); });
    fromGarage_ = add(file_, tr("Open log &from the garage…"), tr("A log that is kept, with the setup it ran with"),
                      [this] { openFromGarage(); });
    keep_ = add(file_, tr("&Keep log in the garage…"), tr("With the setup that ran and the outing it belongs to"),
                [this] { keepLog(); });
    needLog_ << add(file_, tr("&Close log"), tr("Takes it off this workspace; the file stays"), [this] {
        if (const auto data = review_.data()) review_.closeLog(data->id);
    });
}

void ReviewActions::makePrinting() {
    const PageWords words{tr("&Print review…"), tr("Save review as P&DF or HTML…"),
                          tr("Sessions, passes, findings and what to try, of the log in view")};
    const auto order = [this] {
        const auto data = review_.data();
        const QString name = QFileInfo(QString::fromStdString(data->source.path)).completeBaseName();
        return PageOrder{tr("review %1").arg(name), false,
                         [data, pictures = reviewPictures(*data, review_.desk().units),
                          units = review_.desk().units.copy()](const WorkOptions&) {
                             return makeReviewPage({{*data->log, *data->review, pictures}}, *units);
                         }};
    };
    printer_ = new PagePrinter(review_.desk(), window_, words, order, this);
    file_ << printer_->actions();
    needLog_ << printer_->actions();
}

void ReviewActions::makeEdit() {
    newSession_ = add(edit_, tr("&Session begins at the cursor"), tr("Cuts the session where the lanes' cursor stands"),
                      [this] { beginSessionAtCursor(); });
    join_ = add(edit_, tr("&Join session with the one before"),
                tr("Takes away the boundary where the session at the cursor begins"), [this] { joinSession(); });
    newPass_ = add(edit_, tr("&Pass from mark to cursor"), tr("Click in the lanes to set the mark, move to its end"),
                   [this] { addPass(); });
    dropPass_ = add(edit_, tr("&No pass here"), tr("Takes the chosen pass away"), [this] { removePass(); });
}

void ReviewActions::makeOwn() {
    needLog_ << add(own_, tr("How the log was &read…"), tr("Encoding, columns and units; each can be overruled"),
                    [this] { showImport(); });
    needLog_ << add(own_, tr("How it is &judged…"), tr("Cells, cutoff, and the clock of the measured speed"),
                    [this] { askJudging(); });
    againstBench_ = add(own_, tr("Judge by the setup on the &bench"), tr("Its limits, gearing and prediction"), [] {});
    againstBench_->setCheckable(true);
    againstBench_->setChecked(review_.againstBench());
    connect(againstBench_, &QAction::toggled, &review_, &ReviewDesk::setAgainstBench);
    note_ = add(own_, tr("&Noted speed of the pass…"), tr("What a display or a speed gun said, and which way it ran"),
                [this] { askNote(); });
    needLog_ << add(own_, tr("Add &measured speed…"), tr("A GPX track or NMEA sentences recorded with the log"),
                    [this] { chooseTrack(); });
}

void ReviewActions::enable() {
    const auto data = review_.data();
    for (QAction* action : needLog_)
        action->setEnabled(data != nullptr);
    const bool garage = review_.desk().garage.isOpen();
    keep_->setEnabled(data != nullptr && garage && review_.desk().garage.writable());
    fromGarage_->setEnabled(garage);
    const bool cursor = data != nullptr && review_.axis().cursor().has_value();
    newSession_->setEnabled(cursor);
    join_->setEnabled(cursor && data->review->sessions.size() > 1);
    newPass_->setEnabled(cursor && review_.axis().anchor().has_value());
    dropPass_->setEnabled(data != nullptr && review_.pass().has_value());
    note_->setEnabled(data != nullptr && review_.pass().has_value());
}

void ReviewActions::chooseFiles() {
    const QStringList paths =
        QFileDialog::getOpenFileNames(window_, tr("Open log"), review_.desk().settings.text(folderSetting),
                                      tr("Logs and tracks (*.csv *.txt *.log *.tsv *.gpx *.nmea);;Every file (*)"));
    if (paths.isEmpty()) return;
    review_.desk().settings.setText(folderSetting, QFileInfo(paths.first()).absolutePath());
    emit filesChosen(paths);
}

void ReviewActions::chooseTrack() {
    const QString path =
        QFileDialog::getOpenFileName(window_, tr("Measured speed"), review_.desk().settings.text(folderSetting),
                                     tr("Tracks (*.gpx *.nmea *.txt);;Every file (*)"));
    if (!path.isEmpty()) emit filesChosen({path});
}

void ReviewActions::showImport() {
    if (review_.data()) show(*new ImportDialog(review_, window_));
}

void ReviewActions::askForMap(const std::shared_ptr<const RefusedLog>& refused) {
    if (mapping_) return; // the dialog that is open says it
    mapping_ = new ImportDialog(review_, refused, window_);
    show(*mapping_);
}

void ReviewActions::askJudging() {
    if (review_.data()) show(*new JudgingDialog(review_, window_));
}

void ReviewActions::askNote() {
    const auto data = review_.data();
    const auto pass = review_.pass();
    if (!data || !pass) return;
    if (*pass >= data->noted.size() || !review_.desk().garage.writable())
        return emit review_.desk().voice.complained(tr("Noted speed"),
                                                    tr("It is kept with its pass: keep the log in the garage first."));
    auto* dialog = new NotedDialog(*pass, data->noted[*pass], review_.desk().units, window_);
    connect(dialog, &QDialog::accepted, this, [this, dialog, pass = *pass] { review_.setNote(pass, dialog->note()); });
    show(*dialog);
}

void ReviewActions::keepLog() {
    auto* dialog = new KeepDialog(review_, window_);
    connect(dialog, &QDialog::accepted, this, [this, dialog] { keeper_->keep(dialog->choice()); });
    show(*dialog);
}

void ReviewActions::openFromGarage() {
    QStringList names;
    std::vector<Id> ids;
    review_.desk().garage.attempt(tr("Reading the kept logs"), [&](Garage& garage) {
        for (const StoredLog& log : garage.logs()) {
            QString name = QString::fromStdString(log.name) + QStringLiteral(" · ") +
                           counted(log.sessions, tr("session"), tr("sessions")) + QStringLiteral(", ") +
                           counted(log.passes, tr("pass"), tr("passes"));
            if (!log.started.empty()) name += QStringLiteral(" · ") + QString::fromStdString(log.started).left(10);
            names << name;
            ids.push_back(log.id);
        }
    });
    if (names.isEmpty())
        return emit review_.desk().voice.complained(tr("No log is kept yet"),
                                                    tr("Open a log from a file, then keep it in the garage."));
    bool chosen = false;
    const QString name =
        QInputDialog::getItem(window_, tr("Open log from the garage"), tr("Log"), names, 0, false, &chosen);
    const qsizetype row = names.indexOf(name);
    if (chosen && row >= 0) review_.openKept(ids[static_cast<std::size_t>(row)]);
}

void ReviewActions::beginSessionAtCursor() {
    const auto data = review_.data();
    const auto cursor = review_.axis().cursor();
    if (!data || !cursor) return;
    review_.edit(tr("cut session"), withAddedSession(review_.edits(), data->lineAt(*cursor)));
}

void ReviewActions::joinSession() {
    const auto data = review_.data();
    const auto cursor = review_.axis().cursor();
    if (!data || !cursor) return;
    for (std::size_t i = data->review->sessions.size(); i-- > 1;) {
        if (data->spanOfSession(i).from > *cursor) continue;
        return review_.edit(tr("join sessions"), withoutSession(review_.edits(), data->review->sessions[i].startLine));
    }
    emit review_.desk().voice.complained(tr("Nothing to join"),
                                         tr("The cursor stands in the first session: there is none before it."));
}

void ReviewActions::addPass() {
    const auto data = review_.data();
    const auto cursor = review_.axis().cursor();
    const auto mark = review_.axis().anchor();
    if (!data || !cursor || !mark) return;
    const LineSpan span{data->lineAt(std::min(*cursor, *mark)), data->lineAt(std::max(*cursor, *mark))};
    if (span.first < span.last) review_.edit(tr("add pass"), withAddedPass(review_.edits(), span));
}

void ReviewActions::removePass() {
    const auto data = review_.data();
    const auto pass = review_.pass();
    if (!data || !pass) return;
    const ReviewPass& what = data->review->passes[*pass];
    review_.edit(tr("remove pass %1").arg(*pass + 1),
                 withoutPass(review_.edits(), {data->log->line[what.startRow], data->log->line[what.endRow]}));
}

} // namespace rw
