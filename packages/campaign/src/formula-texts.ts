import { type Formula, formulaText, type TraceStep } from "@alcedo-dosimetry/metrology";
import { plain } from "./concise.ts";

/** Digits of a number put into a formula: enough to do the sum again on a pocket calculator. */
const DIGITS = 7;

/** The formula of a step in its symbols, and with its inputs' numbers put in. */
export interface FormulaTexts {
  readonly symbols: string;
  readonly numbers: string;
}

/** A step's formula as two lines of text; undefined where the step comes from outside. */
export function formulaTexts({ formula, inputs }: TraceStep): FormulaTexts | undefined {
  if (!formula) return undefined;
  const steps = new Map(inputs.map((input) => [input.node, input]));
  const readable = rounded(formula);
  return {
    symbols: formulaText(readable, (node) => nameOf(steps.get(node)?.symbol, node)),
    numbers: formulaText(readable, (node) => {
      const step = steps.get(node);
      return step ? inBrackets(plain(step.value, DIGITS)) : `x${node}`;
    }),
  };
}

/** Steps without a name are told apart by their number on the tape. */
function nameOf(symbol: string | undefined, node: number): string {
  return symbol === undefined || symbol === "" ? `x${node}` : symbol;
}

/** A power of ten in the middle of a product would be read as part of it. */
function inBrackets(text: string): string {
  return text.includes("×") ? `(${text})` : text;
}

/** The same formula without the last bits of its literal numbers: 0.2 in place of 0.19999999999999996. */
function rounded(formula: Formula): Formula {
  return mapped(formula, (part) =>
    part.kind === "number" ? { ...part, value: Number(part.value.toPrecision(DIGITS)) } : part,
  );
}

/** The symbols of columns that a formula looks at. */
export function columnSymbols(formula: Formula): ReadonlySet<string> {
  const found = new Set<string>();
  mapped(formula, (part) => {
    if (part.kind === "symbol") found.add(part.symbol);
    return part;
  });
  return found;
}

/** A formula with every part of it put through a function, whatever kinds of part there are. */
function mapped(formula: Formula, change: (part: Formula) => Formula): Formula {
  const deep = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(deep);
    if (typeof value !== "object" || value === null) return value;
    const copy = Object.fromEntries(Object.entries(value).map(([key, part]) => [key, deep(part)]));
    return "kind" in copy ? change(copy as unknown as Formula) : copy;
  };
  return deep(formula) as Formula;
}
