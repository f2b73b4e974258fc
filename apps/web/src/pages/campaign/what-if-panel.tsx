import { type Campaign, columnAt, type Edit, percent } from "@alcedo-dosimetry/campaign";
import { useEffect, useMemo, useRef, useState } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import type { Outcome, WhatIf } from "../../engine/orders.ts";
import { Button } from "../../look/button.tsx";
import { ConciseNumber } from "../../look/concise-number.tsx";
import { useDecimal } from "../../look/decimal.tsx";
import { Select } from "../../look/select.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";
import { TextField } from "../../look/text-field.tsx";
import { type Change, readingOf } from "../../readings/grid-edits.ts";
import { fieldKey, type Typed } from "../../set-up/filled.ts";
import { ASSUMPTIONS, fieldText } from "../../set-up/set-up-fields.ts";
import { ask, errorWords } from "../../talk/ask.ts";
import { type OnTrial, separationOf, trial } from "./trial.ts";
import "./what-if-panel.css";

/** What the panel of what-if is made of. */
export interface WhatIfPanelProps {
  readonly id: string;
  readonly campaign: Campaign;
  readonly engine: EngineClient;
  readonly outcome: Outcome | undefined;
  readonly out: readonly OnTrial[];
  readonly onOut: (out: readonly OnTrial[]) => void;
  readonly who: string;
  readonly onKeep: (change: Change) => void;
  readonly onClose: () => void;
}

/** What is looked at first. */
const MAIN = /^(?:separation\.(?:stem-ratio|weight\.)|calibration\.coefficient$|output-factor\.)/;

/** Official and what-if side by side. Nothing of it is kept unless somebody asks. */
export function WhatIfPanel(props: WhatIfPanelProps) {
  const { id, campaign, engine, outcome, out, onOut, who, onKeep, onClose } = props;
  const [typed, setTyped] = useState<Typed>({});
  const [roles, setRoles] = useState<Readonly<Record<string, string>>>({});
  const [other, setOther] = useState<{ readonly id: string; readonly campaign: Campaign }>();
  const [all, setAll] = useState(false);
  const [table, setTable] = useState<string>();
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const { edits, words, faults } = useMemo(
    () => trial(campaign, { out, typed, roles, other, who }),
    [campaign, out, typed, roles, other, who],
  );
  const { answer, fault } = useWhatIf(engine, outcome, edits);
  const tables = campaign.descriptor.resources
    .map(({ name }) => name)
    .filter((name) => campaign.tables[name] !== undefined);
  const separation = separationOf(campaign);
  const conditions = separation ? conditionRoles(campaign, separation) : [];
  const shown = answer?.changes.filter((change) => all || MAIN.test(change.id)) ?? [];
  return (
    <aside className="what-if" aria-labelledby="what-if-title">
      <div className="trace-head">
        <Button kind="quiet" aria-label="Close what-if" onPress={onClose}>
          ×
        </Button>
      </div>
      <h2 id="what-if-title" ref={heading} tabIndex={-1} className="trace-title">
        What if
      </h2>
      <p className="muted">Try it out: the campaign stays as it is until you keep it.</p>
      <section aria-labelledby="what-if-out">
        <h3 id="what-if-out">Without a reading</h3>
        <div className="what-if-pair">
          <Select
            label="Table"
            chosen={table ?? tables.at(-1)}
            choices={tables.map((name) => ({ id: name, name }))}
            onChoose={setTable}
          />
          <Select
            label="Reading"
            chosen={undefined}
            empty="leave out …"
            choices={readingsOf(campaign, table ?? tables.at(-1)).map((reading) => ({ id: reading, name: reading }))}
            onChoose={(reading) => onOut([...out, { table: table ?? tables.at(-1)!, reading }])}
          />
        </div>
        <ul className="what-if-chosen">
          {out.map((one) => (
            <li key={`${one.table}/${one.reading}`}>
              <span className="number">{one.reading}</span> <span className="muted">{one.table}</span>
              <Button
                kind="quiet"
                aria-label={`${one.reading}: take it in again`}
                onPress={() => onOut(out.filter((own) => own !== one))}
              >
                ×
              </Button>
            </li>
          ))}
        </ul>
      </section>
      <details className="what-if-more">
        <summary>Another assumption</summary>
        <div className="what-if-fields">
          {ASSUMPTIONS.fields.map((field) => {
            const key = fieldKey(field);
            const official = fieldText(campaign.descriptor, field);
            return (
              <TextField
                key={key}
                label={field.unit === "1" || field.unit === undefined ? field.label : `${field.label}, ${field.unit}`}
                mono
                inputMode="decimal"
                value={typed[key] ?? official}
                onChange={(text) => {
                  const { [key]: _, ...rest } = typed;
                  setTyped(text === official ? rest : { ...rest, [key]: text });
                }}
                error={faults[key]}
              />
            );
          })}
        </div>
      </details>
      <details className="what-if-more">
        <summary>Another separation</summary>
        {conditions.length === 0 ? (
          <p className="muted">This campaign has no separation of its own.</p>
        ) : (
          <div className="what-if-fields">
            {conditions.map(({ condition, role }) => (
              <Select
                key={condition}
                label={condition}
                chosen={roles[condition] ?? role}
                choices={[
                  { id: "fit", name: "fit: finds the ratio" },
                  { id: "verify", name: "verify: tests it" },
                ]}
                onChoose={(own) => setRoles({ ...roles, [condition]: own })}
              />
            ))}
            <OtherSeparation id={id} campaign={campaign} chosen={other?.id} onChoose={setOther} />
          </div>
        )}
      </details>
      {fault !== undefined && (
        <p className="field-error" role="alert">
          {fault}
        </p>
      )}
      {answer && edits.length > 0 && (
        <section aria-labelledby="what-if-changes" className="what-if-outcome">
          <h3 id="what-if-changes">What would change</h3>
          {answer.standing.before !== answer.standing.after && (
            <p>
              <StandingMark standing={answer.standing.before} /> → <StandingMark standing={answer.standing.after} />
            </p>
          )}
          <Changes changes={shown} />
          {shown.length === 0 && <p className="muted">None of the main results.</p>}
          <p className="muted small">
            {answer.unchanged} numbers stay as they are.
            {answer.onlyBefore.length > 0 && ` Would be gone: ${answer.onlyBefore.join(", ")}.`}
          </p>
          {answer.coming.map(({ message }) => (
            <p key={message} className="small">
              <strong>Would be noticed:</strong> {message}
            </p>
          ))}
          {answer.going.map(({ message }) => (
            <p key={message} className="small muted">
              <strong>Would be gone:</strong> {message}
            </p>
          ))}
          <div className="stage-ways">
            {answer.changes.length > shown.length || all ? (
              <Button kind="quiet" onPress={() => setAll(!all)}>
                {all ? "main results only" : `all ${answer.changes.length} changes`}
              </Button>
            ) : null}
          </div>
          <div className="stage-ways">
            <Button
              onPress={() => {
                onOut([]);
                setTyped({});
                setRoles({});
                setOther(undefined);
              }}
            >
              Forget it
            </Button>
            <Button
              kind="main"
              onPress={() => onKeep({ edits, why: `after what-if: ${words.join("; ")}`.slice(0, 480) })}
            >
              Keep it
            </Button>
          </div>
        </section>
      )}
    </aside>
  );
}

function Changes({ changes }: { readonly changes: WhatIf["changes"] }) {
  const decimal = useDecimal();
  return (
    <ul className="what-if-changes">
      {changes.map(({ id, label, before, after, uBefore, uAfter, unit, change, by }) => (
        <li key={id}>
          <span className="what-if-label">{label}</span>
          <span className="what-if-sides">
            <ConciseNumber value={before} u={uBefore} />
            <span className="unseen">would become</span>
            <span aria-hidden="true">→</span>
            <ConciseNumber value={after} u={uAfter} unit={unit} />
            <span className="number">{before === 0 ? "" : decimal(percent(change / Math.abs(before), true))}</span>
          </span>
          {by.length > 0 && <span className="muted small">by {by.map(({ input }) => input).join(", ")}</span>}
        </li>
      ))}
    </ul>
  );
}

/** Another campaign of this fibre, whose separation is put in the place of this one's. */
function OtherSeparation({
  id,
  campaign,
  chosen,
  onChoose,
}: {
  readonly id: string;
  readonly campaign: Campaign;
  readonly chosen: string | undefined;
  readonly onChoose: (other: { readonly id: string; readonly campaign: Campaign } | undefined) => void;
}) {
  const [others, setOthers] = useState<readonly { readonly id: string; readonly title: string }[]>([]);
  const [fault, setFault] = useState<string>();
  const fibre = campaign.descriptor.alcedo.detector.id;
  useEffect(() => {
    let wanted = true;
    ask("campaigns", { query: { fibre } }).then(
      ({ campaigns }) => wanted && setOthers(campaigns.filter((own) => own.id !== id)),
      (error: unknown) => wanted && setFault(errorWords(error)),
    );
    return () => {
      wanted = false;
    };
  }, [fibre, id]);
  if (fault !== undefined) return <p className="field-error">{fault}</p>;
  if (others.length === 0) return <p className="muted">No other campaign of this fibre to take a separation from.</p>;
  return (
    <Select
      label="Readings of the separation"
      chosen={chosen ?? "own"}
      choices={[
        { id: "own", name: "this campaign's own" },
        ...others.map(({ id: own, title }) => ({ id: own, name: title })),
      ]}
      onChoose={(own) => {
        setFault(undefined);
        if (own === "own") {
          onChoose(undefined);
          return;
        }
        ask("campaign", { id: own }).then(
          (kept) => onChoose({ id: own, campaign: kept.campaign }),
          (error: unknown) => setFault(errorWords(error)),
        );
      }}
    />
  );
}

function conditionRoles({ tables }: Campaign, name: string) {
  const table = tables[name]!;
  const [condition, role] = [columnAt(table.columns, "condition"), columnAt(table.columns, "role")];
  if (condition < 0 || role < 0) return [];
  const roles = new Map(table.rows.map((row) => [row[condition]!.trim(), row[role]!.trim()]));
  return [...roles].filter(([own]) => own !== "").map(([own, is]) => ({ condition: own, role: is }));
}

function readingsOf({ tables }: Campaign, name: string | undefined): string[] {
  const table = name === undefined ? undefined : tables[name];
  if (!table) return [];
  const out = columnAt(table.columns, "exclude");
  return table.rows.filter((row) => out < 0 || row[out]!.trim() === "").map((row) => readingOf(table, row));
}

/** What the engine says to edits, anew with each outcome. */
function useWhatIf(engine: EngineClient, outcome: Outcome | undefined, edits: readonly Edit[]) {
  const [state, setState] = useState<{ readonly answer?: WhatIf; readonly fault?: string }>({});
  // biome-ignore lint/correctness/useExhaustiveDependencies: every outcome changes the official side
  useEffect(() => {
    let wanted = true;
    if (edits.length === 0) setState({});
    else
      engine.whatIf(edits).then(
        (answer) => wanted && setState({ answer }),
        (error: unknown) => wanted && setState({ fault: errorWords(error) }),
      );
    return () => {
      wanted = false;
    };
  }, [engine, edits, outcome]);
  return state;
}
