import {
  type Campaign,
  type Finding,
  type Resource,
  STAGE_NAMES,
  type Stage,
  type StageId,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";
import { memo, useCallback, useMemo, useRef } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import type { Outcome, ShownQuantity } from "../../engine/orders.ts";
import { Button } from "../../look/button.tsx";
import { Empty } from "../../look/empty.tsx";
import { FindingNote } from "../../look/finding-note.tsx";
import { Menu } from "../../look/menu.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";
import { columnsToAdd } from "../../readings/grid-columns.ts";
import type { Change } from "../../readings/grid-edits.ts";
import { columnChange } from "../../readings/grid-edits.ts";
import { cellKey, type GridWay, ReadingsGrid } from "../../readings/readings-grid.tsx";
import { SetUpStrip } from "./set-up-strip.tsx";
import { StageFigures } from "./stage-figures.tsx";
import { StageMargin } from "./stage-margin.tsx";
import { StageResults } from "./stage-results.tsx";
import { OTHER_SERIES, TEACHING } from "./stage-teaching.ts";
import "./stage-section.css";

/** What a stage may ask of the page. */
export interface StageActions {
  readonly change: (change: Change) => void;
  readonly draft: (change: Change | undefined) => void;
  readonly trace: (id: string) => void;
  /** A block is to be taken into the series; with its text where it was pasted already. */
  readonly block: (series: TableSeriesKind, name: string | undefined, text?: string) => void;
  readonly begin: (series: TableSeriesKind) => void;
  readonly leaveOut: (name: string, row: number) => void;
  readonly goTo: (finding: Finding) => void;
  readonly way: (name: string, way: GridWay | null) => void;
}

/** What a stage of the chain is made of. */
export interface StageSectionProps {
  readonly id: StageId | keyof typeof OTHER_SERIES;
  readonly campaign: Campaign;
  readonly resource: Resource | undefined;
  readonly stage: Stage | undefined;
  readonly outcome: Outcome | undefined;
  readonly quantities: ReadonlyMap<string, ShownQuantity>;
  readonly findings: readonly Finding[];
  readonly engine: EngineClient;
  readonly actions: StageActions;
}

const isStage = (id: string): id is StageId => id in STAGE_NAMES;

/** One stage: its result and standing in the margin; right of the line results, figure, readings and findings. */
export const StageSection = memo(function StageSection(props: StageSectionProps) {
  const { id, campaign, resource, stage, outcome, quantities, findings, engine, actions } = props;
  const { channels, signalUnit } = campaign.descriptor.alcedo.detector;
  const table = resource && campaign.tables[resource.name];
  const title = isStage(id) ? STAGE_NAMES[id] : OTHER_SERIES[id];
  const rows = (isStage(id) && outcome?.rows[id]) || NONE;
  const marks = useMemo(() => marksOf(findings, resource?.name), [findings, resource?.name]);
  const conditions = useMemo(() => [...new Set(rows.map(({ condition }) => condition))], [rows]);
  const way = useRef<GridWay>(null);
  const teaching = TEACHING[id];
  // the grid is drawn again only for what is its own
  const ownName = resource?.name ?? "";
  const ownSeries = resource?.alcedo.series as TableSeriesKind;
  const takeBlock = useCallback(
    (text: string) => actions.block(ownSeries, ownName, text),
    [actions, ownSeries, ownName],
  );
  const leaveOut = useCallback((row: number) => actions.leaveOut(ownName, row), [actions, ownName]);
  const setWay = useCallback(
    (own: GridWay | null) => {
      way.current = own;
      actions.way(ownName, own);
    },
    [actions, ownName],
  );
  return (
    <section className="stage" aria-labelledby={`stage-${id}`} data-stage={id}>
      <StageMargin
        id={id}
        title={title}
        stage={stage}
        quantities={quantities}
        channels={channels}
        rows={rows}
        onTrace={actions.trace}
      />
      <div className="stage-content">
        <header className="stage-head">
          <h2 id={`stage-${id}`}>{title}</h2>
          <p className="stage-reason">
            {stage ? (
              <>
                <StandingMark standing={stage.standing} /> {stage.reason}
              </>
            ) : table ? (
              "no result yet"
            ) : (
              "not measured"
            )}
          </p>
          {table && (
            <div className="stage-ways">
              <Button
                kind="quiet"
                onPress={() => actions.block(resource.alcedo.series as TableSeriesKind, resource.name)}
              >
                Paste a block
              </Button>
              <Button
                kind="quiet"
                onPress={() => {
                  const row = way.current?.row();
                  if (row !== undefined) actions.leaveOut(resource.name, row);
                }}
              >
                Leave out
              </Button>
              <Menu
                label="Add column"
                lines={columnsToAdd(table, resource.alcedo.series as TableSeriesKind, channels).map(
                  ({ name, unit }) => ({
                    id: name,
                    name: unit === undefined ? name.replaceAll("_", " ") : `${name.replaceAll("_", " ")}, ${unit}`,
                    onAction: () => actions.change(columnChange(campaign, resource.name, name)),
                  }),
                )}
              />
            </div>
          )}
        </header>
        {table?.rows.length === 0 && teaching && (
          <ol className="stage-steps muted">
            {teaching.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        )}
        {!table && teaching && (
          <Empty title={teaching.title}>
            <p>{teaching.gives}</p>
            <ol className="stage-steps">
              {teaching.steps.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
            <div className="stage-ways">
              <Button onPress={() => actions.block(id, undefined)}>Paste from a spreadsheet</Button>
              <Button onPress={() => actions.begin(id)}>Type it in</Button>
            </div>
          </Empty>
        )}
        {table && (
          <div className="stage-body">
            <div className="stage-left">
              <div className="sheet stage-readings">
                <ReadingsGrid
                  name={resource.name}
                  table={table}
                  series={resource.alcedo.series as TableSeriesKind}
                  channels={channels}
                  signalUnit={signalUnit}
                  marks={marks}
                  onChange={actions.change}
                  onDraft={actions.draft}
                  onBlock={takeBlock}
                  onLeaveOut={leaveOut}
                  way={setWay}
                />
              </div>
              {findings.length > 0 && (
                <div className="stage-findings">
                  {findings.map((finding) => (
                    <FindingNote
                      key={`${finding.code} ${finding.message}`}
                      finding={finding}
                      {...(finding.where && { onGo: () => actions.goTo(finding) })}
                    />
                  ))}
                </div>
              )}
              {isStage(id) && outcome && (
                <SetUpStrip stage={id} engine={engine} outcome={outcome} conditions={conditions} />
              )}
            </div>
            {isStage(id) && rows.length > 0 && outcome && (
              <div className="stage-right">
                <div className="sheet stage-results">
                  <StageResults
                    stage={id}
                    rows={rows}
                    quantities={quantities}
                    channels={channels}
                    signalUnit={signalUnit}
                    onTrace={actions.trace}
                  />
                </div>
                <div className="sheet stage-figures">
                  <StageFigures stage={id} engine={engine} outcome={outcome} conditions={conditions} />
                </div>
              </div>
            )}
          </div>
        )}
        {!table &&
          findings.map((finding) => <FindingNote key={`${finding.code} ${finding.message}`} finding={finding} />)}
      </div>
    </section>
  );
});

const NONE: readonly never[] = [];

/** The findings of a table's cells. */
function marksOf(findings: readonly Finding[], name: string | undefined) {
  const marks = new Map<string, Finding["level"]>();
  for (const { level, where } of findings) {
    if (where?.row === undefined || name === undefined) continue;
    const key = cellKey(where.row - 1, where.column ?? "");
    if (level === "error" || !marks.has(key)) marks.set(key, level);
  }
  return marks as ReadonlyMap<string, Finding["level"]>;
}
