// An invented day for the tests of Review: two packs, three passes, every channel in closed form, written as text.
#pragma once

#include <QDir>
#include <QFile>
#include <QString>
#include <QTextStream>

#include <algorithm>
#include <cmath>

namespace rw::test {

struct InventedDay {
    double rate_Hz = 25.0;
    bool cutoffActs = true; // in the last pass output falls to 80 % from 4 to 6 s after the throttle opens
    const char* motorName = "Motor temp [°C]";
};

// Session 1: 4 cells, 120 s, passes at 30 and 80 s. Session 2: 6 cells, after five minutes, 100 s, pass at 40 s.
inline QString writeInventedDay(const QDir& folder, const QString& name, const InventedDay& day = {}) {
    QFile file(folder.filePath(name));
    if (!file.open(QIODevice::WriteOnly)) return {};
    QTextStream out(&file);
    out << "Time [s],Pack voltage [V],Pack current [A],Throttle [%],Output [%],Motor rpm," << day.motorName << '\n';
    struct Session {
        double start, length, resting;
        std::vector<double> passes;
    };
    const Session sessions[] = {{0.0, 120.0, 16.6, {30.0, 80.0}}, {420.0, 100.0, 25.0, {40.0}}};
    int made = 0;
    for (const Session& session : sessions) {
        double heat = 25.0;
        const int rows = static_cast<int>(session.length * day.rate_Hz);
        for (int i = 0; i < rows; ++i) {
            const double t = i / day.rate_Hz;
            double throttle = 0.0;
            double run = -1.0;
            int pass = -1;
            for (std::size_t k = 0; k < session.passes.size(); ++k) {
                const double since = t - session.passes[k];
                if (since < 0.0 || since > 20.0) continue;
                run = since;
                pass = made + static_cast<int>(k);
                throttle = since < 0.5 ? since / 0.5 : since < 8.0 ? 1.0 : 0.0;
            }
            const bool cut = day.cutoffActs && pass == 2 && run > 4.0 && run < 6.0;
            const double output = throttle * (cut ? 0.8 : 1.0);
            const double speed = run < 0.0   ? 0.0
                                 : run < 8.0 ? 1.0 - std::exp(-run / 2.0)
                                             : std::max(0.0, 1.0 - (run - 8.0) / 6.0);
            const double current = output * (180.0 - 10.0 * std::min(run, 8.0));
            heat += (throttle > 0.0 ? 3.0 : -0.05) / day.rate_Hz;
            const double ripple = 0.004 * ((i * 7) % 5); // the sensor's last digit is never still
            out << session.start + t << ',' << session.resting - 0.018 * current - ripple << ',' << current << ','
                << 100.0 * throttle << ',' << 100.0 * output << ',' << 42000.0 * speed << ',' << heat << '\n';
        }
        made += static_cast<int>(session.passes.size());
    }
    return file.fileName();
}

} // namespace rw::test
