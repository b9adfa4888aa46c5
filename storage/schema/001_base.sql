-- Everything that has a name and an id is an item; what a kind has besides stands in a table of its own.
-- item.number is what people see ("vehicle-3"): it counts within the kind and is never used twice.
CREATE TABLE counter (
    kind TEXT NOT NULL PRIMARY KEY,  -- kind of item, or 'change'
    last INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE item (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL,
    number INTEGER NOT NULL,
    name TEXT NOT NULL,
    description TEXT NOT NULL,
    notes TEXT NOT NULL,
    document TEXT NOT NULL,          -- column map: JSON; checklist: one line an item
    retired INTEGER NOT NULL,
    created TEXT NOT NULL,           -- UTC, ISO 8601
    changed TEXT NOT NULL,
    version INTEGER NOT NULL,        -- from counter 'change'
    UNIQUE (kind, number)
) STRICT;

-- Numbers of parts, setups and outings, by plan key, in the key's unit. ANY keeps a real exactly as given.
CREATE TABLE item_value (
    item INTEGER NOT NULL REFERENCES item(id),
    key TEXT NOT NULL,
    number ANY,
    text TEXT NOT NULL,
    unit_shown TEXT NOT NULL,
    uncertainty ANY,
    source INTEGER NOT NULL,         -- 0 maker's sheet, 1 measured, 2 fitted, 3 guess
    note TEXT NOT NULL,
    PRIMARY KEY (item, key)
) STRICT, WITHOUT ROWID;

-- A row is never changed: an edit is a new row with a parent.
CREATE TABLE setup (
    item INTEGER NOT NULL PRIMARY KEY REFERENCES item(id),
    first INTEGER NOT NULL REFERENCES setup(item),
    revision INTEGER NOT NULL,
    parent INTEGER REFERENCES setup(item),
    reason TEXT NOT NULL,
    vehicle INTEGER NOT NULL REFERENCES item(id),
    motor INTEGER NOT NULL REFERENCES item(id),
    controller INTEGER NOT NULL REFERENCES item(id),
    pack INTEGER NOT NULL REFERENCES item(id),
    tyre INTEGER NOT NULL REFERENCES item(id),
    pinion INTEGER NOT NULL REFERENCES item(id),
    spur INTEGER NOT NULL REFERENCES item(id),
    UNIQUE (first, revision)
) STRICT;
CREATE INDEX setup_by_vehicle ON setup (vehicle);
CREATE INDEX setup_by_parent ON setup (parent);

CREATE TABLE outing (
    item INTEGER NOT NULL PRIMARY KEY REFERENCES item(id),
    date TEXT NOT NULL,
    venue INTEGER REFERENCES item(id)
) STRICT;
CREATE TABLE outing_setup (
    outing INTEGER NOT NULL REFERENCES outing(item),
    place INTEGER NOT NULL,
    setup INTEGER NOT NULL REFERENCES setup(item),
    PRIMARY KEY (outing, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX outing_by_setup ON outing_setup (setup);
CREATE TABLE outing_photo (
    outing INTEGER NOT NULL REFERENCES outing(item),
    place INTEGER NOT NULL,
    path TEXT NOT NULL,
    PRIMARY KEY (outing, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE log (
    item INTEGER NOT NULL PRIMARY KEY REFERENCES item(id),
    sha256 TEXT NOT NULL UNIQUE,
    size INTEGER NOT NULL,
    packed_size INTEGER NOT NULL,
    "rows" INTEGER NOT NULL,
    started TEXT NOT NULL,
    dialect TEXT NOT NULL,
    edits TEXT NOT NULL,
    outing INTEGER REFERENCES outing(item),
    setup INTEGER REFERENCES setup(item),
    column_map INTEGER REFERENCES item(id)
) STRICT;
CREATE INDEX log_by_outing ON log (outing);
CREATE INDEX log_by_setup ON log (setup);
-- Large and seldom read, so in tables of their own. Zstandard frames with checksum.
CREATE TABLE log_bytes (
    log INTEGER NOT NULL PRIMARY KEY REFERENCES log(item),
    zstd BLOB NOT NULL
) STRICT;
CREATE TABLE log_review (
    log INTEGER NOT NULL PRIMARY KEY REFERENCES log(item),
    zstd BLOB NOT NULL
) STRICT;

CREATE TABLE session (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    log INTEGER NOT NULL REFERENCES log(item),
    place INTEGER NOT NULL,
    start_row INTEGER NOT NULL,
    end_row INTEGER NOT NULL,
    start_line INTEGER NOT NULL,
    end_line INTEGER NOT NULL,
    start_s REAL NOT NULL,
    duration_s REAL NOT NULL,
    cells INTEGER,
    resting_V REAL,
    setup INTEGER REFERENCES setup(item),
    pack INTEGER REFERENCES item(id),
    UNIQUE (log, place)
) STRICT;
CREATE INDEX session_by_setup ON session (setup);
CREATE INDEX session_by_pack ON session (pack);

-- The figures that lists show, sort and filter; all of them, as JSON, are in pass_figures.
CREATE TABLE pass (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    log INTEGER NOT NULL REFERENCES log(item),
    session INTEGER NOT NULL REFERENCES session(id),
    place INTEGER NOT NULL,
    start_s REAL NOT NULL,
    end_s REAL NOT NULL,
    complete INTEGER NOT NULL,
    direction INTEGER NOT NULL,      -- 0 unknown, 1 there, 2 back
    notes TEXT NOT NULL,
    version INTEGER NOT NULL,
    zone_speed_mps REAL,
    speed_peak_mps REAL,
    wheel_peak_mps REAL,
    peak_A REAL,
    min_cell_V REAL,
    motor_max_C REAL,
    pack_start_C REAL,
    pack_ohm REAL,
    pack_ohm_se REAL,
    charge_Ah REAL,
    UNIQUE (log, place)
) STRICT;
CREATE INDEX pass_by_session ON pass (session);
CREATE TABLE pass_figures (
    pass INTEGER NOT NULL PRIMARY KEY REFERENCES pass(id),
    json TEXT NOT NULL
) STRICT;

CREATE TABLE plan (
    item INTEGER NOT NULL PRIMARY KEY REFERENCES item(id),
    setup INTEGER REFERENCES setup(item),
    venue INTEGER REFERENCES item(id),
    input TEXT NOT NULL,
    result TEXT NOT NULL,
    settings TEXT NOT NULL,
    program TEXT NOT NULL
) STRICT;
CREATE INDEX plan_by_setup ON plan (setup);

CREATE TABLE fit (
    item INTEGER NOT NULL PRIMARY KEY REFERENCES item(id),
    setup INTEGER REFERENCES setup(item),
    parameters TEXT NOT NULL,        -- JSON: [{key, value, standard_error, determined, why_not}]
    covariance TEXT NOT NULL,        -- JSON: row by row
    report TEXT NOT NULL,
    program TEXT NOT NULL
) STRICT;
CREATE INDEX fit_by_setup ON fit (setup);
CREATE TABLE fit_pass (
    fit INTEGER NOT NULL REFERENCES fit(item),
    place INTEGER NOT NULL,
    pass INTEGER NOT NULL REFERENCES pass(id),
    PRIMARY KEY (fit, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX fit_by_pass ON fit_pass (pass);
