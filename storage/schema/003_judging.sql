-- What the owner said of how a log is to be judged, besides its setup, outing and column map: JSON, or ''.
ALTER TABLE log ADD COLUMN judging TEXT NOT NULL DEFAULT '';
-- The measured speed that came with a log, JSON in a Zstandard frame with checksum.
CREATE TABLE log_track (
    log INTEGER NOT NULL PRIMARY KEY REFERENCES log(item),
    zstd BLOB NOT NULL
) STRICT;

-- Speeds that were only read off, by a display or a speed gun: at most one of a kind a pass.
CREATE TABLE pass_noted (
    pass INTEGER NOT NULL REFERENCES pass(id),
    kind INTEGER NOT NULL,           -- 0 mean over the timed zone, 1 peak
    speed_mps REAL NOT NULL,
    uncertainty_mps REAL NOT NULL,   -- standard
    PRIMARY KEY (pass, kind)
) STRICT, WITHOUT ROWID;

-- What a setup's numbers were learned from: correlation, gains of sensors and logs, as members of the plan input. JSON,
-- or ''.
ALTER TABLE setup ADD COLUMN learned TEXT NOT NULL DEFAULT '';

-- Gains of the sensors and the priors stand in the fit's JSON; accepted: the revision that its values went into.
ALTER TABLE fit ADD COLUMN gains TEXT NOT NULL DEFAULT '';
ALTER TABLE fit ADD COLUMN accepted INTEGER REFERENCES setup(item);
CREATE INDEX fit_by_accepted ON fit (accepted);
-- The values of parts and of the accepted revision that came from a fit.
CREATE TABLE fit_value (
    fit INTEGER NOT NULL REFERENCES fit(item),
    item INTEGER NOT NULL REFERENCES item(id),
    key TEXT NOT NULL,
    PRIMARY KEY (fit, item, key)
) STRICT, WITHOUT ROWID;
CREATE INDEX fit_value_by_item ON fit_value (item);

-- item_value.source besides 0 maker's sheet, 1 measured, 2 fitted, 3 guess: 4 label, 5 estimated.
