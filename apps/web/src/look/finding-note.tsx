import { type Finding, type FindingLevel, placeInWords } from "@alcedo-dosimetry/campaign";
import type { ReactNode } from "react";
import { useDecimal } from "./decimal.tsx";
import "./finding-note.css";

/** Told apart without colour: a crossed disc, a triangle, a ring. */
const SHAPES: Readonly<Record<FindingLevel, ReactNode>> = {
  error: (
    <>
      <circle cx="8" cy="8" r="7" className="finding-fill" />
      <path d="M5.3 5.3 L10.7 10.7 M10.7 5.3 L5.3 10.7" className="finding-cut" />
    </>
  ),
  warning: (
    <>
      <path d="M8 1.6 L15 14.2 H1 Z" className="finding-line" />
      <path d="M8 6 V10 M8 11.4 V12.8" className="finding-line" />
    </>
  ),
  notice: (
    <>
      <circle cx="8" cy="8" r="6.4" className="finding-line" />
      <path d="M8 7 V12 M8 4 V5.4" className="finding-line" />
    </>
  ),
};

/** What a finding on the page is made of. */
export interface FindingNoteProps {
  readonly finding: Finding;
  /** Leads to the cell that it speaks of. */
  readonly onGo?: () => void;
  /** Buttons that mend it. */
  readonly children?: ReactNode;
}

/** Something that the tool noticed: what was seen, what it does to the result, what to do. */
export function FindingNote({ finding, onGo, children }: FindingNoteProps) {
  const { level, message, effect, remedy, where } = finding;
  const decimal = useDecimal();
  const place = where && placeInWords(where);
  return (
    <div className={`finding finding-${level}`}>
      <FindingMark level={level} />
      <div className="finding-words">
        <p>
          <strong className="finding-level">{level}</strong> {decimal(message)}
        </p>
        {effect !== undefined && <p className="muted">{decimal(effect)}</p>}
        {remedy !== undefined && <p>{decimal(remedy)}</p>}
        {(onGo !== undefined || children !== undefined) && (
          <div className="finding-ways">
            {onGo !== undefined && (
              <button type="button" className="finding-go" onClick={onGo}>
                {place === undefined || place === "" ? "go there" : `go to ${place}`}
              </button>
            )}
            {children}
          </div>
        )}
      </div>
    </div>
  );
}

/** The sign of a finding's level alone. */
export function FindingMark({ level }: { readonly level: FindingLevel }) {
  return (
    <svg className={`finding-shape finding-shape-${level}`} viewBox="0 0 16 16" aria-hidden="true">
      {SHAPES[level]}
    </svg>
  );
}
