import {
  beamInWords,
  type Campaign,
  columnAt,
  detectorInWords,
  EditError,
  type Finding,
  type Resource,
  STAGES,
  type StageId,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";
import { useCallback, useMemo, useRef, useState } from "react";
import { Footer } from "../../app/footer.tsx";
import { campaignLeaves, Masthead } from "../../app/masthead.tsx";
import { useSession } from "../../app/session.ts";
import { BlockDialog } from "../../block/block-dialog.tsx";
import { blockEdits } from "../../block/block-edits.ts";
import type { BlockRows } from "../../block/block-table.ts";
import type { OpenBook } from "../../book/open-book.ts";
import { rowOf } from "../../book/reading-place.ts";
import { useBook, useBookState, useKept, useOutcome, useSteady } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { Empty } from "../../look/empty.tsx";
import { say } from "../../look/saying.ts";
import type { Change } from "../../readings/grid-edits.ts";
import { decimalOfTables, emptyTable, hasBackground, tableEdits } from "../../readings/new-table.ts";
import type { GridWay } from "../../readings/readings-grid.tsx";
import { SetUpDialog } from "../../set-up/set-up-dialog.tsx";
import { useKeys } from "../keys/use-keys.ts";
import { ConflictNotes } from "./conflict-notes.tsx";
import { LeaveOutDialog } from "./leave-out-dialog.tsx";
import { SavedMark } from "./saved-mark.tsx";
import { type StageActions, StageSection } from "./stage-section.tsx";
import { OTHER_SERIES } from "./stage-teaching.ts";
import { StrayFindings, stageOfFinding } from "./stray-findings.tsx";
import { type Traced, TracePanel } from "./trace-panel.tsx";
import type { OnTrial } from "./trial.ts";
import { WhatIfPanel } from "./what-if-panel.tsx";
import "./campaign-page.css";

/** The chain of a campaign, from readings to results, down one line. */
export function CampaignPage({ id }: { readonly id: string }) {
  const opening = useBook(id);
  if (opening.state === "open") return <OpenCampaign key={id} open={opening.open} />;
  return (
    <>
      <Masthead title={id} leaves={campaignLeaves(id, "campaign")} />
      <main className="campaign-waiting">
        {opening.state === "loading" ? (
          <p className="muted" role="status">
            Opening …
          </p>
        ) : (
          <Empty title="The campaign does not open">
            <p role="alert">{opening.words}</p>
            <Button onPress={opening.again}>Try again</Button>
          </Empty>
        )}
      </main>
    </>
  );
}

/** What lies over the page. */
type Sheet =
  | { readonly kind: "set-up" }
  | { readonly kind: "leave-out"; readonly name: string; readonly row: number }
  | { readonly kind: "block"; readonly series: TableSeriesKind; readonly name?: string; readonly text?: string };

/** What stands beside the chain. */
type Panel = { readonly kind: "trace"; readonly traced: Traced } | { readonly kind: "what-if" };

function OpenCampaign({ open }: { readonly open: OpenBook }) {
  const { id, book, engine } = open;
  const state = useBookState(open);
  const outcome = useOutcome(open);
  const kept = useKept(open);
  const session = useSession();
  const [sheet, setSheet] = useState<Sheet>();
  const [panel, setPanel] = useState<Panel>();
  const [out, setOut] = useState<readonly OnTrial[]>([]);
  const ways = useRef(new Map<string, GridWay>());
  const { campaign } = state;
  const { descriptor } = campaign;
  const who = session.state === "in" ? session.me.person.id : "";

  const change = useSteady(({ edits, why }: Change) => {
    try {
      book.edit(edits, why.slice(0, 480));
    } catch (error) {
      if (!(error instanceof EditError)) throw error;
      say(error.message);
    }
  });
  const undo = () => {
    const { undoes } = book.state();
    if (undoes === undefined) return;
    const left = book.undo();
    say(
      left.length > 0
        ? `Taken back but for ${left.length} that somebody changed since: ${undoes}`
        : `Taken back: ${undoes}`,
      {
        words: "redo",
        go: redo,
      },
    );
  };
  const redo = () => {
    const { redoes } = book.state();
    if (redoes === undefined) return;
    book.redo();
    say(`Made again: ${redoes}`, { words: "undo", go: undo });
  };
  const goTo = useSteady(
    (table: string, reading: string | undefined, row: number | undefined, column: string | undefined) => {
      const own = campaign.tables[table];
      const at = row ?? (own && reading !== undefined ? rowOf(own, reading) : -1);
      if (at >= 0) ways.current.get(table)?.goTo(at, column);
    },
  );
  const actions = useMemo<StageActions>(
    () => ({
      change,
      draft: (draft) => engine.draft(draft?.edits ?? null),
      trace: (own) => setPanel({ kind: "trace", traced: { id: own, path: [] } }),
      block: (series, name, text) =>
        setSheet({ kind: "block", series, ...(name !== undefined && { name }), ...(text !== undefined && { text }) }),
      begin: (series) => change(begun(book.state().campaign, series)),
      leaveOut: (name, row) => setSheet({ kind: "leave-out", name, row }),
      goTo: ({ where }) => {
        if (!where) return;
        const tables = book.state().campaign.descriptor.resources;
        const name = tables.find(({ path, alcedo }) => path === where.file || alcedo.series === where.series)?.name;
        if (name !== undefined)
          goTo(
            name,
            where.reading ?? firstReading(book.state().campaign, name, where),
            where.row === undefined ? undefined : where.row - 1,
            where.column,
          );
      },
      way: (name, way) => {
        if (way) ways.current.set(name, way);
        else ways.current.delete(name);
      },
    }),
    [book, engine, change, goTo],
  );
  const quantities = useMemo(() => new Map(outcome?.quantities.map((own) => [own.id, own])), [outcome?.quantities]);
  const resources = useResources(descriptor.resources);
  const findings = useFindings(outcome?.findings, descriptor.resources);
  const openWhatIf = useCallback(() => setPanel({ kind: "what-if" }), []);
  useKeys("Campaign", [
    { press: "Control+z", does: "take the last change back", run: undo },
    { press: "Control+Shift+Z Control+y", does: "make it again", run: redo },
    { press: "w", does: "what if", run: openWhatIf },
    { press: "s", does: "set-up: detector, beam, assumptions", run: () => setSheet({ kind: "set-up" }) },
    { press: "c", does: "console", run: () => location.assign(`#/campaign/${encodeURIComponent(id)}/console`) },
    { press: "Escape", does: "close what stands beside the chain", run: () => setPanel(undefined) },
  ]);
  useKeys("Readings", [
    { press: "ArrowUp ArrowDown ArrowLeft ArrowRight", does: "from cell to cell" },
    { press: "F2", does: "change the cell; or just type" },
    { press: "Control+c Control+v", does: "copy a cell; paste a cell or a block from a spreadsheet" },
    { press: "Control+d", does: "fill down from the cell above" },
    { press: "Delete", does: "empty the cell" },
    { press: "Alt+x", does: "leave the reading out, or take it in again" },
  ]);

  const taken = sheet?.kind === "block" && sheet.name !== undefined ? campaign.tables[sheet.name] : undefined;
  const takeBlock = (series: TableSeriesKind, name: string | undefined, rows: BlockRows) => {
    const count = rows.rows.length === 1 ? "1 reading" : `${rows.rows.length} readings`;
    setSheet(undefined);
    if (name !== undefined) {
      change({ edits: blockEdits(campaign, name, rows), why: `${name}: ${count} out of a spreadsheet` });
      return;
    }
    const table = {
      ...newTable(campaign, series),
      columns: [...rows.added],
      rows: rows.rows,
      lines: rows.rows.map((_, k) => k + 2),
    };
    const { edits, name: own } = tableEdits(campaign, series, table);
    change({ edits, why: `${own}: ${count} out of a spreadsheet` });
  };
  const section = (own: StageId | keyof typeof OTHER_SERIES, resource: Resource | undefined) => (
    <StageSection
      key={resource?.name ?? own}
      id={own}
      campaign={campaign}
      resource={resource}
      stage={outcome?.stages.find((stage) => stage.id === own)}
      outcome={outcome}
      quantities={quantities}
      findings={findings.get(own) ?? NONE}
      engine={engine}
      actions={actions}
    />
  );
  return (
    <>
      <Masthead
        title={descriptor.title ?? descriptor.name}
        beside={
          <>
            {beamInWords(descriptor.alcedo.beam)} · {detectorInWords(descriptor.alcedo.detector)}
          </>
        }
        leaves={campaignLeaves(id, "campaign")}
        status={<SavedMark state={state} kept={kept} />}
      >
        <Button kind="quiet" isDisabled={state.undoes === undefined} onPress={undo}>
          Undo
        </Button>
        <Button kind="quiet" onPress={() => setSheet({ kind: "set-up" })}>
          Set-up
        </Button>
        <Button kind="quiet" onPress={openWhatIf}>
          What if
        </Button>
      </Masthead>
      <div className={`campaign${panel ? " with-panel" : ""}`}>
        <main className="chain">
          {state.refused !== undefined && (
            <section className="conflicts" role="alert">
              <p>The server does not take a change: {state.refused}</p>
              <div>
                <Button onPress={book.giveUp}>Take the change back</Button>
              </div>
            </section>
          )}
          {kept?.differs !== undefined && (
            <section className="conflicts" role="alert">
              <p>
                The server's evaluation is not the page's: they differ in {kept.differs}. Load the page again; should it
                stay so, do not use these results and report it.
              </p>
            </section>
          )}
          <ConflictNotes conflicts={state.conflicts} book={book} />
          <StrayFindings
            findings={findings.get("") ?? NONE}
            onGo={actions.goTo}
            onSetUp={() => setSheet({ kind: "set-up" })}
          />
          {STAGES.map((own) => section(own, resources.get(own)))}
          {(Object.keys(OTHER_SERIES) as (keyof typeof OTHER_SERIES)[])
            .filter((own) => resources.has(own))
            .map((own) => section(own, resources.get(own)))}
        </main>
        {panel && (
          <div className="panel">
            {panel.kind === "trace" ? (
              <TracePanel
                engine={engine}
                outcome={outcome}
                traced={panel.traced}
                onTrace={(traced) => setPanel({ kind: "trace", traced })}
                onReading={(series, reading) => {
                  const name = resources.get(series)?.name;
                  if (name !== undefined) goTo(name, reading, undefined, "reading");
                }}
                onClose={() => setPanel(undefined)}
              />
            ) : (
              <WhatIfPanel
                id={id}
                campaign={campaign}
                engine={engine}
                outcome={outcome}
                out={out}
                onOut={setOut}
                who={who}
                onKeep={(made) => {
                  change(made);
                  setOut([]);
                  setPanel(undefined);
                  say("Kept", { words: "undo", go: undo });
                }}
                onClose={() => setPanel(undefined)}
              />
            )}
          </div>
        )}
      </div>
      <Footer simulated={session.state === "in" && session.me.simulated === true} />
      {sheet?.kind === "set-up" && (
        <SetUpDialog campaign={campaign} onChange={change} onClose={() => setSheet(undefined)} />
      )}
      {sheet?.kind === "leave-out" && campaign.tables[sheet.name]?.rows[sheet.row] && (
        <LeaveOutDialog
          name={sheet.name}
          table={campaign.tables[sheet.name]!}
          row={sheet.row}
          who={who}
          onChange={change}
          onWhatIf={() => {
            const table = campaign.tables[sheet.name]!;
            const at = columnAt(table.columns, "reading");
            setOut([...out, { table: sheet.name, reading: table.rows[sheet.row]![at]!.trim() }]);
            setSheet(undefined);
            openWhatIf();
          }}
          onClose={() => setSheet(undefined)}
        />
      )}
      {sheet?.kind === "block" && (
        <BlockDialog
          title={`${taken ? "More readings" : "Readings"} from a spreadsheet`}
          series={sheet.series}
          channels={descriptor.alcedo.detector.channels}
          table={taken ?? { ...newTable(campaign, sheet.series), columns: [] }}
          withBackground={hasBackground(descriptor)}
          {...(sheet.text !== undefined && { text: sheet.text })}
          onTake={(rows) => takeBlock(sheet.series, sheet.name, rows)}
          onClose={() => setSheet(undefined)}
        />
      )}
    </>
  );
}

const NONE: readonly Finding[] = [];

function newTable(campaign: Campaign, series: TableSeriesKind) {
  return emptyTable(series, campaign.descriptor.alcedo.detector.channels, {
    decimal: decimalOfTables(campaign),
    withBackground: hasBackground(campaign.descriptor),
  });
}

function begun(campaign: Campaign, series: TableSeriesKind): Change {
  const { edits, name } = tableEdits(campaign, series, newTable(campaign, series));
  return { edits, why: `${name}: begun` };
}

/** The first table of each series. */
function useResources(resources: readonly Resource[]): ReadonlyMap<string, Resource> {
  return useMemo(() => new Map(resources.toReversed().map((own) => [own.alcedo.series, own])), [resources]);
}

/** The findings of each stage; those that belong to none under "". */
function useFindings(findings: readonly Finding[] | undefined, resources: readonly Resource[]) {
  return useMemo(() => {
    const found = new Map<string, Finding[]>();
    for (const finding of findings ?? []) {
      const own = stageOfFinding(finding, resources);
      found.set(own, [...(found.get(own) ?? []), finding]);
    }
    return found;
  }, [findings, resources]);
}

/** The first reading of a condition that a finding speaks of. */
function firstReading(
  { tables }: Campaign,
  name: string,
  { condition }: NonNullable<Finding["where"]>,
): string | undefined {
  const table = tables[name];
  if (!table || condition === undefined) return undefined;
  const at = (column: string) => columnAt(table.columns, column);
  return table.rows.find((row) => row[at("condition")]?.trim() === condition)?.[at("reading")]?.trim();
}
