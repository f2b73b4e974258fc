import { STAGE_NAMES, type StageId } from "@alcedo-dosimetry/campaign";
import { useEffect, useRef } from "react";
import type { RunLine } from "./run-sheet.ts";
import "./run-list.css";

/** What the list of visits is made of. */
export interface RunListProps {
  readonly run: readonly RunLine[];
  readonly current: RunLine | undefined;
  readonly onGo: (line: RunLine) => void;
}

/** The run sheet: every visit in order, what is enough, and where one is. */
export function RunList({ run, current, onGo }: RunListProps) {
  const here = useRef<HTMLButtonElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: where one is, is seen
  useEffect(() => here.current?.scrollIntoView({ block: "nearest" }), [current?.id]);
  const series = [...new Set(run.map((line) => line.series))] as StageId[];
  return (
    <nav className="run" aria-label="Run sheet">
      {series.map((stage) => (
        <section key={stage} aria-label={STAGE_NAMES[stage]}>
          <h3 className="run-stage">{STAGE_NAMES[stage]}</h3>
          <ol className="run-lines">
            {run
              .filter((line) => line.series === stage)
              .map((line) => (
                <li key={line.id}>
                  <button
                    type="button"
                    className="run-line"
                    {...(line.id === current?.id ? { ref: here } : { tabIndex: -1 })}
                    aria-current={line.id === current?.id ? "step" : undefined}
                    onClick={() => onGo(line)}
                  >
                    <span className="run-sign" aria-hidden="true">
                      {line.id === current?.id ? "▸" : line.enough.enough ? "✓" : ""}
                    </span>
                    <span>{line.condition}</span>
                    <span className="number">
                      {line.count}
                      {!line.enough.enough && line.enough.more !== undefined && line.enough.more < 30 && (
                        <span className="muted"> of {line.count + line.enough.more}</span>
                      )}
                      <span className="unseen">{line.enough.enough ? ", enough" : ", not enough"}</span>
                    </span>
                  </button>
                </li>
              ))}
          </ol>
        </section>
      ))}
    </nav>
  );
}
