import {
  type Finding,
  type StructureCode,
  type StructureDetails,
  structureFinding,
  type Where,
} from "@alcedo-dosimetry/campaign";
import { columnLetters } from "@alcedo-dosimetry/tabular/workbook";

/** A cell's place as a spreadsheet shows it. */
export interface CellPlace {
  /** Row, from 1. */
  readonly row: number;
  /** Column, from 0. */
  readonly column: number;
}

/** Things seen in many cells of one sheet, said once each with their number and the first place. */
export interface SheetNotes {
  note(code: StructureCode, place: CellPlace, what: NoteWords): void;
  all(): Finding[];
}

/** How a thing seen in cells is said: `1 cell has`, `3 cells have`, and what goes with it. */
interface NoteWords extends StructureDetails {
  readonly one: string;
  readonly many: string;
}

/** Collects what is seen in the cells of one sheet. */
export function sheetNotes(where: Where, source: string): SheetNotes {
  const seen = new Map<string, { code: StructureCode; words: NoteWords; first: CellPlace; count: number }>();
  return {
    note(code, place, words) {
      const key = `${code} ${words.one}`;
      const known = seen.get(key);
      if (known === undefined) seen.set(key, { code, words, first: place, count: 1 });
      else known.count += 1;
    },
    all: () =>
      [...seen.values()].map(({ code, words, first, count }) => {
        const { one, many, ...details } = words;
        const cell = `${columnLetters(first.column)}${first.row}`;
        const message = `${source}: ${count === 1 ? `1 ${one}: ${cell}` : `${count} ${many}, the first in ${cell}`}.`;
        const facts = { ...details.facts, cells: count, first: cell };
        return structureFinding(code, message, {
          ...details,
          where: { ...where, ...details.where, line: first.row },
          facts,
        });
      }),
  };
}
