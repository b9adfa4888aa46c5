// Which pack ran each session of a log: one row a session, every one the setup's pack until another is picked.
#pragma once

#include "core/review/review.h"
#include "storage/garage.h"

#include <QWidget>

#include <optional>
#include <vector>

class QComboBox;

namespace rw {

class SessionPacks : public QWidget {
    Q_OBJECT
public:
    SessionPacks(const std::vector<ReviewSession>& sessions, const std::vector<Part>& packs, QWidget* parent = nullptr);

    void choose(std::size_t session, std::optional<Id> pack); // none: the setup's
    // By session; none: the setup's.
    [[nodiscard]] std::vector<std::optional<Id>> chosen() const;
    [[nodiscard]] const std::vector<QComboBox*>& boxes() const { return boxes_; }

private:
    std::vector<QComboBox*> boxes_;
};

} // namespace rw
