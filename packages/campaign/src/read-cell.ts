import type { Column } from "./columns.ts";
import { type Finding, placeInWords, type Where } from "./finding.ts";
import { readTime } from "./iso-time.ts";
import { nearestKey } from "./nearest-key.ts";
import { isNumberFault, readNumber } from "./number-text.ts";
import { isWithin, rangeInWords } from "./range.ts";
import { shown } from "./shown-text.ts";
import type { StructureCode } from "./structure-codes.ts";
import { type StructureDetails, structureFinding } from "./structure-finding.ts";

/** The typed content of one cell that is not empty. */
export interface CellValue {
  /** The text without blanks around it. */
  readonly text: string;
  /** The value of a number, or a time in seconds. */
  readonly number?: number;
  /** The worth of a number's last digit. */
  readonly digit?: number;
}

/** What is wrong with a cell, its place aside: a table holds a million cells, and only faults need to know where they are. */
export interface CellFault extends StructureDetails {
  readonly code: StructureCode;
  /** Continues "place: cell …". */
  readonly fault: string;
  readonly text: string;
}

/** Types the text of one cell, blanks around it taken off, or says what is wrong with it and what to write. */
export function readCell(text: string, column: Column, decimal: "." | ","): CellValue | CellFault {
  switch (column.kind) {
    case "number": {
      const outcome = readNumber(text, decimal);
      if (isNumberFault(outcome)) return { ...outcome, text };
      const { value, digit } = outcome;
      const range = column.range;
      if (range === undefined || isWithin(value, range)) return { text, number: value, digit };
      const fault = `is impossible: ${column.name} lies ${rangeInWords(range)}`;
      return { code: "number-range", fault, text, facts: { value, min: range.min, max: range.max } };
    }
    case "time": {
      const time = readTime(text);
      return typeof time === "number" ? { text, number: time } : { code: "time-malformed", text, ...time };
    }
    case "choice": {
      const choices = column.choices ?? [];
      if (choices.includes(text)) return { text };
      const nearest = nearestKey(text, choices);
      const remedy = nearest === undefined ? `Write one of: ${choices.join(", ")}.` : `Write ${nearest}.`;
      return { code: "choice-unknown", fault: `is none of: ${choices.join(", ")}`, text, remedy };
    }
    default:
      return { text };
  }
}

/** True for the faulty outcome of {@link readCell}. */
export function isCellFault(outcome: CellValue | CellFault): outcome is CellFault {
  return "code" in outcome;
}

/** The fault of a cell as a finding at its place. */
export function cellFinding({ code, fault, text, ...details }: CellFault, where: Where): Finding {
  return structureFinding(code, `${placeInWords(where)}: ${shown(text)} ${fault}.`, { ...details, where });
}
