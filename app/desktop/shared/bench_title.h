// One line on what lies on the bench, e.g. "Heron" and " · pack 6S no. 2 · 26/44 · revision 7, two changes not kept".
#pragma once

#include <QString>

namespace rw {

class Bench;

struct BenchTitle {
    QString name, rest;
};
[[nodiscard]] BenchTitle benchTitle(const Bench& bench);

} // namespace rw
