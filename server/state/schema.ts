import type { Layout } from '../layout.ts'

/**
 * Version of the tables below. 0.2.0 is the first release that others have: from then on whoever raises it adds, to the file
 * that changes, the step from the version before, and an empty one to the other.
 */
const VERSION = 10

/** Energy, water, run time and the like, since counting began and by the plant's local day. */
const COUNTERS = `
  CREATE TABLE counter (
    plant TEXT NOT NULL, id TEXT NOT NULL, value REAL NOT NULL, since INTEGER NOT NULL,
    source TEXT NOT NULL, at INTEGER, last REAL, gap_seconds REAL NOT NULL, uncertain_seconds REAL NOT NULL,
    u95 REAL, memory TEXT, PRIMARY KEY (plant, id)) WITHOUT ROWID;
  CREATE TABLE counter_day (
    plant TEXT NOT NULL, id TEXT NOT NULL, day TEXT NOT NULL, value REAL NOT NULL, gap_seconds REAL NOT NULL,
    uncertain_seconds REAL NOT NULL, u95 REAL, peak REAL, PRIMARY KEY (plant, id, day)) WITHOUT ROWID;
  CREATE TABLE counter_quarter (
    plant TEXT NOT NULL, id TEXT NOT NULL, quarter INTEGER NOT NULL, value REAL NOT NULL, gap_seconds REAL NOT NULL,
    uncertain_seconds REAL NOT NULL, u95 REAL, peak REAL, PRIMARY KEY (plant, id, quarter)) WITHOUT ROWID;
  CREATE TABLE late_quarter (plant TEXT NOT NULL, quarter INTEGER NOT NULL, PRIMARY KEY (plant, quarter)) WITHOUT ROWID;`

const ALARMS = `
  CREATE TABLE alarm (plant TEXT NOT NULL, id TEXT NOT NULL, memory TEXT NOT NULL, PRIMARY KEY (plant, id))
    WITHOUT ROWID;
  CREATE TABLE journal (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT, at INTEGER NOT NULL, plant TEXT NOT NULL, entry TEXT NOT NULL);
  CREATE INDEX journal_plant ON journal (plant, sequence);
  CREATE INDEX journal_time ON journal (plant, at);
  CREATE TABLE event (id TEXT PRIMARY KEY, plant TEXT NOT NULL, at INTEGER NOT NULL, status TEXT NOT NULL,
    summary TEXT NOT NULL, record TEXT NOT NULL) WITHOUT ROWID;
  CREATE INDEX event_plant ON event (plant, at);`

/** What is to be sent, when each way to a person was last proven, and keys. */
const NOTIFICATIONS = `
  CREATE TABLE delivery (
    id TEXT PRIMARY KEY, incident TEXT NOT NULL, kind TEXT NOT NULL, plant TEXT, alarm TEXT, priority TEXT NOT NULL,
    recipient TEXT NOT NULL, channel TEXT NOT NULL, step INTEGER NOT NULL, created_at INTEGER NOT NULL,
    due_at INTEGER NOT NULL, message TEXT NOT NULL, status TEXT NOT NULL, attempts INTEGER NOT NULL,
    finished_at INTEGER, reason TEXT, answered_at INTEGER);
  CREATE INDEX delivery_waiting ON delivery (status, due_at);
  CREATE INDEX delivery_incident ON delivery (incident);
  CREATE INDEX delivery_created ON delivery (created_at);
  CREATE TABLE alert_path (recipient TEXT NOT NULL, channel TEXT NOT NULL, accepted_at INTEGER, proven_at INTEGER,
    failed_at INTEGER, failure TEXT, PRIMARY KEY (recipient, channel)) WITHOUT ROWID;
  CREATE TABLE notify_memory (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;`

/** Who may do what, and who did what. The newest 100,000 lines of the audit cannot be changed or removed. */
const ACCESS = `
  CREATE TABLE person (
    id INTEGER PRIMARY KEY AUTOINCREMENT, nameKey TEXT NOT NULL UNIQUE, name TEXT NOT NULL, role TEXT NOT NULL,
    password TEXT, code TEXT, codeUntil INTEGER, createdAt INTEGER NOT NULL, signedInAt INTEGER);
  CREATE TABLE session (key TEXT PRIMARY KEY, person INTEGER NOT NULL, startedAt INTEGER NOT NULL,
    seenAt INTEGER NOT NULL, browser TEXT, address TEXT NOT NULL) WITHOUT ROWID;
  CREATE TABLE device (key TEXT PRIMARY KEY, person INTEGER NOT NULL, seenAt INTEGER NOT NULL) WITHOUT ROWID;
  CREATE TABLE secondFactor (person INTEGER PRIMARY KEY, secret TEXT NOT NULL, since INTEGER NOT NULL,
    step INTEGER NOT NULL);
  CREATE TABLE recoveryCode (hash TEXT PRIMARY KEY, person INTEGER NOT NULL) WITHOUT ROWID;
  CREATE TABLE setUpCode (hash TEXT NOT NULL, at INTEGER NOT NULL);
  CREATE TABLE audit (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT, at INTEGER NOT NULL, who TEXT, role TEXT, address TEXT NOT NULL,
    action TEXT NOT NULL, target TEXT NOT NULL, detail TEXT, outcome TEXT NOT NULL);
  CREATE TRIGGER audit_never_changed BEFORE UPDATE ON audit
    BEGIN SELECT RAISE(ABORT, 'the audit is only ever added to'); END;
  CREATE TRIGGER audit_never_removed BEFORE DELETE ON audit
    WHEN OLD.sequence > (SELECT seq FROM sqlite_sequence WHERE name = 'audit') - 100000
    BEGIN SELECT RAISE(ABORT, 'the audit is only ever added to'); END;`

/** Runs, what they took (points, or traces written piece by piece), and every decision on it. */
const TRIALS = `
  CREATE TABLE trial_run (
    id INTEGER PRIMARY KEY AUTOINCREMENT, plant TEXT NOT NULL, trial TEXT NOT NULL,
    takes TEXT NOT NULL, trial_name TEXT NOT NULL, started INTEGER NOT NULL,
    finished INTEGER, run_by TEXT NOT NULL, method TEXT NOT NULL, name TEXT NOT NULL, class_name TEXT NOT NULL,
    group_name TEXT NOT NULL, year TEXT NOT NULL, notes TEXT NOT NULL);
  CREATE INDEX trial_run_plant ON trial_run (plant, id);
  CREATE TABLE trial_point (
    run INTEGER NOT NULL REFERENCES trial_run (id), number INTEGER NOT NULL, point TEXT NOT NULL, raw TEXT NOT NULL,
    PRIMARY KEY (run, number)) WITHOUT ROWID;
  CREATE TRIGGER trial_point_fixed BEFORE UPDATE ON trial_point
    BEGIN SELECT RAISE(ABORT, 'what was measured is never changed'); END;
  CREATE TRIGGER trial_point_stays BEFORE DELETE ON trial_point
    BEGIN SELECT RAISE(ABORT, 'what was measured is never removed'); END;
  CREATE TABLE trial_notes (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT, run INTEGER NOT NULL REFERENCES trial_run (id), at INTEGER NOT NULL,
    saved_by TEXT NOT NULL, name TEXT NOT NULL, class_name TEXT NOT NULL, group_name TEXT NOT NULL, year TEXT NOT NULL,
    notes TEXT NOT NULL);
  CREATE INDEX trial_notes_run ON trial_notes (run, sequence);
  CREATE TRIGGER trial_notes_fixed BEFORE UPDATE ON trial_notes
    BEGIN SELECT RAISE(ABORT, 'notes are only ever added to'); END;
  CREATE TRIGGER trial_notes_stay BEFORE DELETE ON trial_notes
    BEGIN SELECT RAISE(ABORT, 'notes are only ever added to'); END;
  CREATE TABLE trial_plant_file (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL) WITHOUT ROWID;
  CREATE INDEX trial_run_class ON trial_run (plant, year, class_name, id);
  CREATE TABLE trial_decision (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT, run INTEGER NOT NULL REFERENCES trial_run (id), takes TEXT NOT NULL,
    number INTEGER NOT NULL, at INTEGER NOT NULL, decided_by TEXT NOT NULL, verdict TEXT NOT NULL,
    reason TEXT NOT NULL);
  CREATE INDEX trial_decision_run ON trial_decision (run, takes, number);
  CREATE TRIGGER trial_decision_fixed BEFORE UPDATE ON trial_decision
    BEGIN SELECT RAISE(ABORT, 'decisions are only ever added to'); END;
  CREATE TRIGGER trial_decision_stays BEFORE DELETE ON trial_decision
    BEGIN SELECT RAISE(ABORT, 'decisions are only ever added to'); END;
  CREATE TABLE trial_trace (
    run INTEGER NOT NULL REFERENCES trial_run (id), number INTEGER NOT NULL, begun INTEGER NOT NULL,
    triggered INTEGER NOT NULL, setting TEXT NOT NULL, ended INTEGER, ending TEXT NOT NULL,
    PRIMARY KEY (run, number)) WITHOUT ROWID;
  CREATE TABLE trial_trace_part (
    run INTEGER NOT NULL, number INTEGER NOT NULL, part INTEGER NOT NULL, readings INTEGER NOT NULL,
    raw TEXT NOT NULL, PRIMARY KEY (run, number, part)) WITHOUT ROWID;
  CREATE TRIGGER trial_trace_fixed BEFORE UPDATE OF run, number, begun, triggered, setting ON trial_trace
    BEGIN SELECT RAISE(ABORT, 'what was measured is never changed'); END;
  CREATE TRIGGER trial_trace_ended BEFORE UPDATE OF ended, ending ON trial_trace WHEN OLD.ended IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'what was measured is never changed'); END;
  CREATE TRIGGER trial_trace_stays BEFORE DELETE ON trial_trace
    BEGIN SELECT RAISE(ABORT, 'what was measured is never removed'); END;
  CREATE TRIGGER trial_trace_part_fixed BEFORE UPDATE ON trial_trace_part
    BEGIN SELECT RAISE(ABORT, 'what was measured is never changed'); END;
  CREATE TRIGGER trial_trace_part_late BEFORE INSERT ON trial_trace_part
    WHEN (SELECT ended FROM trial_trace t WHERE t.run = NEW.run AND t.number = NEW.number) IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'this trace has ended'); END;
  CREATE TRIGGER trial_trace_part_stays BEFORE DELETE ON trial_trace_part
    BEGIN SELECT RAISE(ABORT, 'what was measured is never removed'); END;`

/** Lessons: what they were shown, who sat in them, and what their groups marked and predicted. */
const LESSONS = `
  CREATE TABLE lesson (
    id INTEGER PRIMARY KEY AUTOINCREMENT, plant TEXT NOT NULL, plant_name TEXT NOT NULL, title TEXT NOT NULL,
    code TEXT NOT NULL, opened INTEGER NOT NULL, opened_by TEXT NOT NULL, ends INTEGER NOT NULL, ended INTEGER,
    arrangement TEXT NOT NULL, method TEXT NOT NULL);
  CREATE TABLE lesson_group (lesson INTEGER NOT NULL REFERENCES lesson (id), number INTEGER NOT NULL,
    name TEXT NOT NULL, word TEXT NOT NULL, removed INTEGER, PRIMARY KEY (lesson, number)) WITHOUT ROWID;
  CREATE TABLE lesson_seat (key TEXT PRIMARY KEY, lesson INTEGER NOT NULL, group_number INTEGER NOT NULL,
    taken INTEGER NOT NULL) WITHOUT ROWID;
  CREATE TABLE lesson_record (lesson INTEGER NOT NULL REFERENCES lesson (id), number INTEGER NOT NULL,
    group_number INTEGER NOT NULL, press TEXT NOT NULL, record TEXT NOT NULL, remark TEXT NOT NULL, struck TEXT,
    PRIMARY KEY (lesson, number), UNIQUE (lesson, group_number, press)) WITHOUT ROWID;
  CREATE TRIGGER lesson_record_fixed BEFORE UPDATE OF lesson, number, group_number, press, record ON lesson_record
    BEGIN SELECT RAISE(ABORT, 'what was recorded is never changed'); END;
  CREATE TRIGGER lesson_record_stays BEFORE DELETE ON lesson_record
    BEGIN SELECT RAISE(ABORT, 'what was recorded is never removed'); END;
  CREATE TABLE lesson_question (lesson INTEGER NOT NULL REFERENCES lesson (id), number INTEGER NOT NULL,
    text TEXT NOT NULL, figure TEXT NOT NULL, asked INTEGER NOT NULL, closed INTEGER, revealed INTEGER, truth TEXT,
    PRIMARY KEY (lesson, number)) WITHOUT ROWID;
  CREATE TABLE lesson_prediction (lesson INTEGER NOT NULL, question INTEGER NOT NULL, group_number INTEGER NOT NULL,
    value REAL NOT NULL, u REAL, at INTEGER NOT NULL, PRIMARY KEY (lesson, question, group_number)) WITHOUT ROWID;`

/** What the watch writes. */
export const WATCH_LAYOUT: Layout = {
  version: VERSION,
  tables: [COUNTERS, ALARMS, NOTIFICATIONS].join('\n'),
  steps: {},
}
/** What people write by the page. */
export const PEOPLE_LAYOUT: Layout = {
  version: VERSION,
  tables: [ACCESS, TRIALS, LESSONS].join('\n'),
  steps: {},
}
