import { group } from "./element.ts";
import type { DrawingElement, Figure } from "./figure.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { wrapped } from "./wrapped-text.ts";

/** Natural width of a figure. */
export const WIDTH = 640;
/** Empty space about a figure. */
export const MARGIN = 16;
/** Where a figure's content begins, below its heading. */
export const TOP = 52;

/** What a figure is made of besides its content. */
export interface PageGiven {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  /** Where the content ends. */
  readonly end: number;
  /** Sentences that stand under the content. */
  readonly notes?: readonly (string | undefined)[];
}

/** Puts the heading over a figure's content, and notes under it. */
export function page(given: PageGiven, content: readonly DrawingElement[]): Figure {
  const { id, title, description, end, notes = [] } = given;
  const room = WIDTH - 2 * MARGIN;
  const lines = notes.flatMap((note) => (note === undefined ? [] : wrapped(note, room, SMALL_SIZE)));
  const root = group([
    label(MARGIN, 28, title, { size: 16, weight: "bold", family: "serif", room }),
    ...content,
    ...lines.map((line, k) => label(MARGIN, end + 16 + k * NOTE, line, { size: SMALL_SIZE, role: "muted", room })),
  ]);
  const below = lines.length > 0 ? 4 + lines.length * NOTE : 0;
  return { id, title, description, width: WIDTH, height: end + below + MARGIN, root };
}

/** Height of a line of a note. */
const NOTE = 16;
