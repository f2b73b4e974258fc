import { columnAt, type Edit, SIGNAL_PREFIX, STAGE_NAMES, type Visit } from "@alcedo-dosimetry/campaign";
import { useMemo, useState } from "react";
import type { BookState } from "../../book/book.ts";
import { useDecimal } from "../../look/decimal.tsx";
import { Presses } from "../keys/presses.tsx";
import { BigEntries } from "./big-entries.tsx";
import { ConsoleBar } from "./console-bar.tsx";
import { CONSOLE_KEYS, useConsoleKeys } from "./console-keys.ts";
import { back, EMPTY, type Entry, entered } from "./entry.ts";
import {
  type At,
  carriedOver,
  cellEdits,
  entryFields,
  isoMoment,
  nextReadingName,
  readingEdits,
  tableOf,
  textsOf,
} from "./next-reading.ts";
import { NoteOrReason } from "./note-or-reason.tsx";
import { RunList } from "./run-list.tsx";
import { lineAt, runSheet, visitState } from "./run-sheet.ts";
import { RunningFigures } from "./running-figures.tsx";
import { SetUpDialog } from "./set-up-dialog.tsx";
import { SetUpDrawing } from "./set-up-drawing.tsx";
import { setUpInWords } from "./set-up-words.ts";
import { VisitReadings } from "./visit-readings.tsx";
import "./console.css";

/** What the console works with. */
export interface ConsoleProps {
  readonly state: BookState;
  readonly visits: readonly Visit[];
  /** The condition that is measured. */
  readonly at: At;
  readonly onGo: (at: At) => void;
  /** Who leaves readings out. */
  readonly person: string;
  readonly onEdit: (edits: readonly Edit[], why: string) => void;
  readonly onLeave: () => void;
  /** Why the figures are not those of the campaign as it is. */
  readonly trouble?: string;
}

/** Set-up that a new condition most likely shares with the one before. */
const SHARED = new Set(["mu", "duration_s", "temperature_C", "dose_group", "dose_u_percent"]);

/** One reading at a time, large and dark, by keyboard alone. */
export function Console({ state, visits, at, onGo, person, onEdit, onLeave, trouble }: ConsoleProps) {
  const { campaign, waiting } = state;
  const decimal = useDecimal();
  const made = useMemo(() => runSheet(visits), [visits]);
  const [entry, setEntry] = useState<Entry>(EMPTY);
  const [asking, setAsking] = useState<"nothing" | "reason" | "note" | "set-up" | "condition">("nothing");
  const [setUps, setSetUps] = useState<ReadonlyMap<string, ReadonlyMap<string, string>>>(new Map());
  /** Readings that were changed here, one for each change, in order: the last `waiting` of them are under way. */
  const [changed, setChanged] = useState<readonly string[]>([]);
  const { run, line } = lineAt(made, at);
  const { channels, signalUnit } = campaign.descriptor.alcedo.detector;
  const { table } = tableOf(campaign, at.series)!;
  const fields = entryFields(campaign, at.series);
  const known = visitState(visits, line, channels);
  const last = line.readings.at(-1);
  const misfit =
    entry.corrects === undefined && last && last.exclude === undefined ? known.misfits.get(last.id) : undefined;
  const key = `${at.series}/${at.condition}`;
  const own = setUps.get(key) ?? new Map<string, string>();
  const setUp = new Map([...carriedOver(campaign, at), ...own].filter(([, text]) => text !== ""));

  const change = (reading: string, edits: readonly Edit[], why: string) => {
    onEdit(edits, why);
    setChanged((before) => [...before, reading]);
    setAsking("nothing");
  };
  const go = ({ series, condition }: At) => {
    onGo({ series, condition });
    setEntry(EMPTY);
    setAsking("nothing");
  };
  const step = (by: 1 | -1) => {
    const next = run[run.findIndex(({ id }) => id === line.id) + by];
    if (next) go(next);
  };
  const enter = () => {
    const outcome = entered(entry, fields, table.decimal);
    if ("goes" in outcome) {
      setEntry(outcome.goes);
      return;
    }
    const { corrects } = entry;
    if (corrects === undefined) {
      const reading = { at, typed: outcome.whole, setUp: own, time: isoMoment(new Date()) };
      const { name, edits } = readingEdits(campaign, reading);
      change(name, edits, `${name} of ${at.condition}, at the console`);
    } else {
      const cells = Object.fromEntries(outcome.whole);
      change(corrects, cellEdits(campaign, at.series, corrects, cells), `${corrects} corrected at the console`);
    }
    go(at);
  };
  const giveUp = () => {
    const typed = Object.values(entry.texts).some((text) => text !== "");
    if (entry.corrects !== undefined || typed) setEntry(EMPTY);
    else onLeave();
  };
  useConsoleKeys({
    onEnter: enter,
    onLeaveOut: () => last && setAsking("reason"),
    onNote: () => last && setAsking("note"),
    onCondition: () => setAsking("condition"),
    onSetUp: () => setAsking("set-up"),
    onStep: step,
    onEscape: giveUp,
  });
  return (
    <div className="console">
      <ConsoleBar campaign={campaign} state={state} {...(trouble !== undefined && { trouble })} />
      <main className="console-main">
        <div className="console-entry">
          <div>
            <h1 className="console-title">
              {at.condition},{" "}
              {entry.corrects === undefined ? `reading ${line.readings.length + 1}` : `correcting ${entry.corrects}`}
            </h1>
            <p className="console-set-up">
              {[STAGE_NAMES[at.series], decimal(setUpInWords(setUp))].filter((words) => words !== "").join(" · ")}
              <span className="muted"> · goes in as {entry.corrects ?? nextReadingName(table)}</span>
            </p>
          </div>
          <BigEntries
            fields={fields}
            entry={entry}
            before={textsOf(
              campaign,
              at,
              last?.id,
              fields.map(({ column }) => column),
            )}
            isQuiet={asking !== "nothing"}
            onType={(column, text) =>
              setEntry(({ fault: _, ...now }) => ({ ...now, texts: { ...now.texts, [column]: text } }))
            }
            onField={(field) => setEntry((now) => ({ ...now, field }))}
            onBack={() => setEntry(back(entry, fields, campaign, at, last?.id))}
          />
          {last && (asking === "reason" || asking === "note") && (
            <NoteOrReason
              asks={asking}
              reading={last}
              note={textsOf(campaign, at, last.id, ["note"])["note"]!}
              onCells={(cells, why) => {
                const who = "exclude" in cells ? { excluded_by: cells["exclude"] === "" ? "" : person } : {};
                change(last.id, cellEdits(campaign, at.series, last.id, { ...cells, ...who }), why);
              }}
              onLeave={() => setAsking("nothing")}
            />
          )}
          <div role="alert">
            {misfit && (
              <p className="console-misfit">
                <strong>Redo this one.</strong> {decimal(misfit.message)}{" "}
                {decimal(misfit.remedy.replace(" Redo this one.", ""))}
              </p>
            )}
          </div>
          <RunningFigures
            statistics={known.statistics}
            enough={known.enough}
            channels={channels}
            unit={signalUnit}
            isDark={at.series === "background"}
          />
          <VisitReadings
            readings={line.readings}
            typed={line.readings.map(({ row }) =>
              channels.map((channel) => table.rows[row]?.[columnAt(table.columns, SIGNAL_PREFIX + channel)] ?? ""),
            )}
            state={known}
            waiting={new Set(waiting > 0 ? changed.slice(-waiting) : [])}
          />
        </div>
        <aside className="console-aside" aria-label="Set up, and the run">
          <SetUpDrawing campaign={campaign} at={at} />
          <RunList run={run} current={line} onGo={go} />
        </aside>
      </main>
      <ConsoleFoot />
      {(asking === "set-up" || asking === "condition") && (
        <SetUpDialog
          campaign={campaign}
          at={at}
          isNew={asking === "condition"}
          begin={asking === "set-up" ? setUp : new Map([...setUp].filter(([column]) => SHARED.has(column)))}
          onDone={(where, cells) => {
            setSetUps(new Map(setUps).set(`${where.series}/${where.condition}`, cells));
            go(where);
          }}
          onClose={() => setAsking("nothing")}
        />
      )}
    </div>
  );
}

/** The keys, at the foot of the page: there is nothing else to press. */
function ConsoleFoot() {
  const shown = ["Enter", "Backspace", "x", "n", "ArrowDown PageDown", "c", "s", "Escape"];
  const words = ["next", "correct", "leave out", "note", "next condition", "new condition", "set-up", "campaign"];
  return (
    <footer className="console-foot">
      {CONSOLE_KEYS.filter(({ press }) => shown.includes(press)).map(({ press }, k) => (
        <span key={press} className="console-foot-key">
          <Presses press={press.split(" ")[0]!} /> {words[k]}
        </span>
      ))}
      <span className="console-foot-key">
        <Presses press="?" /> all keys
      </span>
      <span className="console-caution">Research and quality-assurance aid, not a medical device.</span>
    </footer>
  );
}
