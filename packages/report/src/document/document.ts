import type { Figure } from "@alcedo-dosimetry/figures";

/** What a document is for: everything, the output factors for who owns the planning model, or ρ and N_D for other days. */
export const DOCUMENT_KINDS = ["record", "output-factors", "certificate"] as const;

/** See {@link DOCUMENT_KINDS}. */
export type DocumentKind = (typeof DOCUMENT_KINDS)[number];

/**
 * How a run of text is set. `user` marks words out of a campaign's files: they are set apart from the sentence around
 * them, whatever direction they are written in.
 */
export type Tone = "strong" | "dim" | "number" | "sub" | "user" | "attention";

/** A run of text in one setting. All text is plain: nothing in it is markup for any renderer. */
export interface Run {
  readonly text: string;
  readonly tone?: Tone;
}

/** Text of a block or cell. */
export type Text = string | readonly Run[];

/** A cell: text, or a share of the whole (0 to 1) that is drawn as a bar. */
export type Cell = Text | { readonly bar: number };

/** A column of a table. */
export interface Column {
  readonly head: Text;
  /** `number`: tabular figures to the right; `code`: figures and names as typed, to the left; `text` otherwise. */
  readonly kind: "text" | "number" | "code" | "bar";
  /** Place of the light channel whose readings it holds, from 1; channels keep their colours. */
  readonly channel?: 1 | 2;
}

/** A row of a table; the first cell names it. */
export interface Row {
  readonly cells: readonly Cell[];
  /** `left-out`: a reading that is not evaluated; `reference`: what the others are compared with. */
  readonly tone?: "left-out" | "reference";
}

/** A table that may run over pages. Every row has as many cells as there are columns. */
export interface TableBlock {
  readonly kind: "table";
  readonly caption: Text;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** What the columns mean, under the table. */
  readonly legend?: Text;
}

/** What a document is made of. */
export type Block =
  | { readonly kind: "heading"; readonly level: 2 | 3; readonly text: Text }
  | { readonly kind: "paragraph"; readonly text: Text; readonly tone?: "lead" | "dim" | "strong" }
  | { readonly kind: "facts"; readonly facts: readonly (readonly [term: string, value: Text])[] }
  | { readonly kind: "formula"; readonly lines: readonly Text[]; readonly alternative: string }
  | { readonly kind: "figure"; readonly figure: Figure }
  | { readonly kind: "finding"; readonly level: "error" | "warning" | "notice"; readonly parts: readonly Text[] }
  | { readonly kind: "blank"; readonly label: string }
  | { readonly kind: "signatures"; readonly roles: readonly string[]; readonly date?: string }
  | { readonly kind: "page-break" }
  | TableBlock;

/** A part of a document under a heading of its own. */
export interface Section {
  /** Stable, unique in its document. */
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly Block[];
}

/** A finished document as plain data; the renderers add nothing to what it says. */
export interface ReportDocument {
  readonly kind: DocumentKind;
  /** What it is: `Full record`. */
  readonly type: string;
  /** Whose it is: the campaign's title, as typed. */
  readonly title: string;
  readonly campaign: string;
  /** Digest of the canonical campaign, on every page. */
  readonly input: string;
  /** Version of the program, on every page. */
  readonly version: string;
  /** Stands on every page where the data were not measured. */
  readonly marking?: string;
  /** The date that its maker gave, `YYYY-MM-DD`; no clock is read. */
  readonly date?: string;
  readonly lead: readonly Block[];
  readonly sections: readonly Section[];
}
