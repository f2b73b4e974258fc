import type { Standing } from "@alcedo-dosimetry/campaign";
import type { ReactNode } from "react";
import "./standing-mark.css";

/** Told apart without colour: full, empty, half full, crossed. */
const SHAPES: Readonly<Record<Standing, ReactNode>> = {
  sound: <circle cx="8" cy="8" r="3.6" className="standing-fill" />,
  untested: null,
  stale: <path d="M8 3.2 A4.8 4.8 0 0 0 8 12.8 Z" className="standing-fill" />,
  broken: <path d="M4.6 4.6 L11.4 11.4 M11.4 4.6 L4.6 11.4" className="standing-line" />,
};

/** What a standing is made of. */
export interface StandingMarkProps {
  readonly standing: Standing;
  /** Leaves the word to those who listen, where it stands beside the mark anyway. */
  readonly markOnly?: boolean;
}

/** What a stage is worth now: a shape and its word. */
export function StandingMark({ standing, markOnly = false }: StandingMarkProps) {
  return (
    <span className={`standing standing-${standing}`}>
      <svg className="standing-shape" viewBox="0 0 16 16" aria-hidden="true">
        <circle cx="8" cy="8" r="6.6" className="standing-line" />
        {SHAPES[standing]}
      </svg>
      <span className={markOnly ? "unseen" : "standing-word"}>{standing}</span>
    </span>
  );
}
