import type {
  Campaign,
  Edit,
  Finding,
  Improvement,
  Quantity,
  Result,
  StageId,
  Standing,
  TraceStep,
  Visit,
} from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";

/** What the page tells the engine. Numbers grow: of several orders that wait, only the latest outcome is worked out. */
export type Order =
  /** Here is a campaign, in the place of the one before. */
  | { readonly open: Campaign; readonly number: number }
  /** The campaign has changed so. */
  | { readonly edits: readonly Edit[]; readonly number: number }
  /** So it would be if what is being typed were entered; null: nothing is being typed any more. */
  | { readonly draft: readonly Edit[] | null; readonly number: number }
  /** A question about the campaign as it is now; answered under its number, after the outcome. */
  | { readonly question: Question; readonly request: number };

/** What may be asked of the campaign as it is. */
export type Question =
  /** One step of a number's origin: from the quantity by these nodes upstream. */
  | { readonly trace: string; readonly path: readonly number[] }
  | { readonly figures: readonly string[] }
  /** What would come out if it were changed so. */
  | { readonly whatIf: readonly Edit[] }
  /** The readings as the console needs them, visit by visit. */
  | { readonly visits: true }
  /** Whether the server's result is this one, to the last bit. */
  | { readonly sameAs: Result };

/** What the engine answers. */
export type Answer =
  | { readonly outcome: Outcome }
  | { readonly request: number; readonly reply: Reply }
  | { readonly request: number; readonly failed: string };

/** What the questions are answered with, by the question's own member. */
export interface Replies {
  readonly trace: TraceView | null;
  readonly figures: readonly Figure[];
  readonly whatIf: WhatIf;
  readonly visits: readonly Visit[];
  /** Where the two results differ first; null where they do not. */
  readonly sameAs: string | null;
}

/** The reply to a question. */
export type Reply = { [Kind in keyof Replies]: { readonly to: Kind; readonly is: Replies[Kind] } }[keyof Replies];

/** A quantity as the page shows it: its budget stays with the engine until somebody asks. */
export interface ShownQuantity extends Omit<Quantity, "budget"> {
  /** What contributes most, in two or three words, with its share. */
  readonly most?: { readonly name: string; readonly share: string };
}

/** One condition of a stage, with what follows from its readings: ids of quantities, to be looked up. */
export interface ConditionRow {
  readonly condition: string;
  /** Role as typed, where the series has one. */
  readonly role?: string;
  readonly count: number;
  /** Mean net signals of a reading, by channel, in signal units. */
  readonly signals: readonly number[];
  /** Quantities of the row, by what they are. */
  readonly ids: Readonly<Record<string, string>>;
  /** Field as measured or as set, in words. */
  readonly field?: string;
  /** Picture of what is set up. */
  readonly geometry?: Figure;
}

/** What comes of a campaign: everything that the page shows without being asked. */
export interface Outcome {
  /** Of the order that it answers. */
  readonly number: number;
  readonly input: string;
  readonly standing: Standing;
  /** False where something is not complete yet and was set aside. */
  readonly complete: boolean;
  /** False where the findings stand in the way of any result. */
  readonly evaluated: boolean;
  readonly stages: Result["stages"];
  /** A stage's own figure, in words. */
  readonly mains: Readonly<Record<StageId, string>>;
  readonly quantities: readonly ShownQuantity[];
  readonly findings: readonly Finding[];
  readonly rows: Readonly<Partial<Record<StageId, readonly ConditionRow[]>>>;
  /** What it took, in ms. */
  readonly took_ms: number;
}

/** A step as the page shows it: what lies upstream is named, not unfolded. */
export type TraceNode = Omit<TraceStep, "inputs" | "formula" | "readings"> & { readonly isLeaf: boolean };

/** One step of a number's origin. */
export interface TraceView {
  readonly quantity: ShownQuantity;
  /** From the quantity down to this step, itself included. */
  readonly way: readonly TraceNode[];
  readonly step: TraceNode;
  readonly formula?: TraceStep["formula"];
  /** The formula as lines of text: for those who listen, and to be copied. */
  readonly texts?: { readonly symbols: string; readonly numbers: string };
  readonly inputs: readonly TraceNode[];
  readonly readings: NonNullable<TraceStep["readings"]>;
  /** Of the quantity itself: every input with a part in its uncertainty, largest first, and the way to it. */
  readonly budget: readonly BudgetLine[];
  /** What would be improved first. */
  readonly improve?: Improvement;
}

/** One input's part in an uncertainty. */
export interface BudgetLine {
  readonly label: string;
  readonly type: "A" | "B";
  readonly share: number;
  /** Nodes from the quantity to the input; absent where the trace does not pass by it. */
  readonly path?: readonly number[];
}

/** Two evaluations side by side. */
export interface WhatIf {
  readonly standing: { readonly before: Standing; readonly after: Standing };
  /** Quantities that changed, in the order of the chain, with the inputs that did it. */
  readonly changes: readonly WhatIfChange[];
  readonly unchanged: number;
  readonly onlyBefore: readonly string[];
  readonly onlyAfter: readonly string[];
  /** Findings that would come, and those that would go. */
  readonly coming: readonly Finding[];
  readonly going: readonly Finding[];
}

/** One quantity before and after. */
interface WhatIfChange {
  readonly id: string;
  readonly label: string;
  readonly symbol: string;
  readonly unit: string;
  readonly before: number;
  readonly after: number;
  readonly uBefore: number | null;
  readonly uAfter: number | null;
  readonly change: number;
  /** What did it, largest first. */
  readonly by: readonly { readonly input: string; readonly change: number }[];
}
