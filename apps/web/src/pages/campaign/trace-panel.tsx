import { concise, percent, plain, share, significant } from "@alcedo-dosimetry/campaign";
import { useEffect, useRef, useState } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import type { Outcome, TraceNode, TraceView } from "../../engine/orders.ts";
import { Bar } from "../../look/bar.tsx";
import { Button } from "../../look/button.tsx";
import { ConciseNumber } from "../../look/concise-number.tsx";
import { useDecimal } from "../../look/decimal.tsx";
import { FormulaView } from "./formula-view.tsx";
import { ReadingDots } from "./reading-dots.tsx";
import { SymbolText } from "./symbol-text.tsx";
import "./trace-panel.css";

/** A number whose origin is looked at: the quantity, and the way upstream from it. */
export interface Traced {
  readonly id: string;
  readonly path: readonly number[];
}

/** What the panel of a number's origin is made of. */
export interface TracePanelProps {
  readonly engine: EngineClient;
  readonly outcome: Outcome | undefined;
  readonly traced: Traced;
  readonly onTrace: (traced: Traced) => void;
  readonly onReading: (series: string, reading: string) => void;
  readonly onClose: () => void;
}

/** Contributions that are shown before the rest is added up. */
const SHOWN = 8;
/** From so many degrees of freedom on, more of them say nothing. */
const MANY = 1000;

/** Where a number comes from: formula, numbers put in, contributions, readings; each step leads further upstream. */
export function TracePanel({ engine, outcome, traced, onTrace, onReading, onClose }: TracePanelProps) {
  const view = useTrace(engine, outcome, traced);
  const heading = useRef<HTMLHeadingElement>(null);
  const decimal = useDecimal();
  // biome-ignore lint/correctness/useExhaustiveDependencies: each step that is opened takes the focus
  useEffect(() => heading.current?.focus(), [traced]);
  if (view === undefined)
    return (
      <aside className="trace" aria-label="Origin of a number">
        <p className="muted">Looking upstream …</p>
      </aside>
    );
  if (view === null)
    return (
      <aside className="trace" aria-label="Origin of a number">
        <h2 ref={heading} tabIndex={-1}>
          Not there any more
        </h2>
        <p>
          The campaign has changed, and this number does not come out of it now; or it is a test, which has no origin.
        </p>
        <Button onPress={onClose}>Close</Button>
      </aside>
    );
  const { step, way, quantity } = view;
  const isRoot = way.length === 1;
  const go = (path: readonly number[]) => onTrace({ id: traced.id, path });
  const pathTo = (depth: number) => way.slice(1, depth + 1).map(({ node }) => node);
  return (
    <aside className="trace" aria-label={`Origin of ${step.label}`}>
      <div className="trace-head">
        {way.length > 1 && (
          <nav aria-label="Way upstream" className="trace-way">
            {way.slice(0, -1).map((above, depth) => (
              <span key={above.node}>
                <button type="button" className="trace-link" onClick={() => go(pathTo(depth))}>
                  {above.symbol === "" ? above.label : <SymbolText symbol={above.symbol} />}
                </button>
                <span aria-hidden="true"> ← </span>
              </span>
            ))}
          </nav>
        )}
        <Button kind="quiet" aria-label="Close the origin" onPress={onClose}>
          ×
        </Button>
      </div>
      <h2 ref={heading} tabIndex={-1} className="trace-title">
        {step.label}
      </h2>
      <p className="trace-value">
        <ConciseNumber value={step.value} u={isRoot ? quantity.u : step.u} unit={step.unit} />
      </p>
      <p className="muted small">
        {isRoot ? coverage(view, decimal) : `standard uncertainty ${decimal(significant(step.u, 2))}${unitOf(step)}`}
        {!isRoot && (
          <>
            ; {decimal(share(step.share))} of the variance of <SymbolText symbol={quantity.symbol} /> comes by this way
          </>
        )}
      </p>
      {view.formula ? (
        <section className="trace-formula" aria-label="Formula">
          {view.texts && <p className="unseen">{`${step.symbol} = ${decimal(view.texts.symbols)}`}</p>}
          <div>
            <SymbolText symbol={step.symbol === "" ? step.label : step.symbol} /> ={" "}
            <FormulaView
              formula={view.formula}
              inputs={view.inputs}
              as="symbols"
              onGo={(node) => go([...pathTo(way.length), node])}
            />
          </div>
          <div>
            = <FormulaView formula={view.formula} inputs={view.inputs} as="numbers" onGo={() => undefined} />
          </div>
        </section>
      ) : (
        <p className="trace-formula muted">
          {step.input === "constant" ? "Stated, without uncertainty." : "An input: nothing lies upstream of it."}
        </p>
      )}
      {isRoot ? (
        <Budget view={view} onGo={go} />
      ) : (
        <Inputs inputs={view.inputs} onGo={(node) => go([...pathTo(way.length), node])} />
      )}
      {view.readings.length > 0 && (
        <section aria-labelledby="trace-readings">
          <h3 id="trace-readings">The readings behind it</h3>
          <ReadingDots readings={view.readings} unit={step.unit} onReading={onReading} />
        </section>
      )}
      {view.improve && isRoot && (
        <section aria-labelledby="trace-improve">
          <h3 id="trace-improve">What to improve first</h3>
          <p>
            <strong>{view.improve.name}</strong>, {share(view.improve.share)} of the variance. {view.improve.advice}{" "}
            Without it, {decimal(concise(quantity.value, view.improve.u))} would be left.
          </p>
        </section>
      )}
    </aside>
  );
}

function Budget({ view, onGo }: { readonly view: TraceView; readonly onGo: (path: readonly number[]) => void }) {
  const [all, setAll] = useState(false);
  const { budget } = view;
  if (budget.length === 0) return <p className="muted">No input of it has an uncertainty.</p>;
  const shown = all ? budget : budget.slice(0, SHOWN);
  const rest = budget.slice(shown.length).reduce((sum, line) => sum + line.share, 0);
  return (
    <section aria-labelledby="trace-budget">
      <h3 id="trace-budget">Where its uncertainty comes from</h3>
      <ul className="trace-bars">
        {shown.map((line, k) => (
          <li key={line.label} className="trace-bar">
            {line.path ? (
              <button type="button" className="trace-link" onClick={() => onGo(line.path!)}>
                {line.label}
              </button>
            ) : (
              <span>{line.label}</span>
            )}
            <Bar share={line.share} first={k === 0} />
            <span className="number">{share(line.share)}</span>
          </li>
        ))}
      </ul>
      {budget.length > SHOWN && (
        <Button kind="quiet" onPress={() => setAll(!all)}>
          {all ? "fewer" : `${budget.length - shown.length} more, ${share(rest)}`}
        </Button>
      )}
    </section>
  );
}

function Inputs({ inputs, onGo }: { readonly inputs: readonly TraceNode[]; readonly onGo: (node: number) => void }) {
  if (inputs.length === 0) return null;
  return (
    <section aria-labelledby="trace-inputs">
      <h3 id="trace-inputs">What goes into it</h3>
      <ul className="trace-inputs">
        {inputs.map((input) => (
          <li key={input.node}>
            <button type="button" className="trace-link" onClick={() => onGo(input.node)}>
              {input.label === "" ? input.symbol : input.label}
            </button>
            <ConciseNumber value={input.value} u={input.u} unit={input.unit} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function coverage({ quantity }: TraceView, decimal: (text: string) => string): string {
  const { u, U, k, dof, value, typeA } = quantity;
  if (u === null) return "no uncertainty: it is a test";
  const relative = value === 0 ? "" : ` (${decimal(percent(u / Math.abs(value)))})`;
  if (typeA === "unknown") return `standard uncertainty${relative} of the known components alone: no repeats`;
  if (U === null || k === null) return `standard uncertainty${relative}`;
  const ends = [value - U, value + U].map((end) => decimal(concise(end, U).replace(/\(.*$/, "")));
  return `standard uncertainty${relative}; 95 %: ${ends[0]} to ${ends[1]} (k = ${decimal(plain(k, 3))}, ν ${dof === null ? "= ∞" : dof > MANY ? `> ${MANY}` : `= ${decimal(plain(dof, 2))}`})`;
}

const unitOf = ({ unit }: TraceNode) => (unit === "1" ? "" : ` ${unit}`);

/** The trace of what is looked at, anew with every outcome; the one before stays while the next is on its way. */
function useTrace(
  engine: EngineClient,
  outcome: Outcome | undefined,
  { id, path }: Traced,
): TraceView | null | undefined {
  const [view, setView] = useState<TraceView | null>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: every outcome may have moved it
  useEffect(() => {
    let wanted = true;
    void engine.trace(id, path).then((answer) => wanted && setView(answer));
    return () => {
      wanted = false;
    };
  }, [engine, id, path, outcome]);
  return view;
}
