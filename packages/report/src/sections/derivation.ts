import {
  concise,
  formulaTexts,
  plain,
  type Quantity,
  quantityText,
  share,
  type TraceStep,
  traceQuantity,
} from "@alcedo-dosimetry/campaign";
import type { Block, Row, Text } from "../document/document.ts";
import { line, typeset } from "../document/text.ts";
import type { Material } from "./section-material.ts";

/** A formula of more letters is no help on paper: its inputs are listed, and the program prints it whole. */
const LONGEST = 320;

/** Parts of u² from here on have a line of their own in a budget. */
const LISTED_SHARE = 1e-3;

/**
 * Where a number comes from: its formula out of the model, with the numbers put in, the formulas of the steps beneath that
 * have not been printed yet, and its uncertainty budget.
 *
 * @param printed the steps that stand in the document already; those that are added here are added to it.
 */
export function derivation(material: Material, quantity: Quantity, printed: Set<number>): Block[] {
  const root = traceQuantity(material.evaluation, quantity.id);
  if (!root) return [];
  return [
    { kind: "heading", level: 2, text: line(typeset(quantity.symbol), `, ${quantity.label}`) },
    ...formulaBlocks(root, quantity, printed),
    ...root.inputs.flatMap((step) => formulaBlocks(step, undefined, printed)),
    ...budgetBlocks(quantity),
  ];
}

/** The formula of one step: in symbols, with the numbers put in, and what comes out. */
function formulaBlocks(step: TraceStep, quantity: Quantity | undefined, printed: Set<number>): Block[] {
  const texts = formulaTexts(step);
  if (!texts || printed.has(step.node)) return [];
  printed.add(step.node);
  const symbol = step.symbol === "" ? "x" : step.symbol;
  if (texts.symbols.length > LONGEST) return [longFormula(step, texts.symbols.length)];
  const result = `${concise(step.value, step.u)}${step.unit === "1" ? "" : ` ${step.unit}`}`;
  const lines = [
    `${symbol} = ${texts.symbols}`,
    ...(texts.numbers === texts.symbols ? [] : [`= ${texts.numbers}`]),
    `= ${quantity ? quantityText(quantity) : result}`,
  ];
  return [
    {
      kind: "formula",
      lines: [...(quantity ? [] : [[{ text: step.label, tone: "dim" as const }]]), ...lines.map(typeset)],
      alternative: lines.join(" "),
    },
  ];
}

/** A formula that is too long to be read, by what goes into it. */
function longFormula({ symbol, label, value, u, unit, inputs, key }: TraceStep, length: number): Block {
  const withUnit = (number: number, own: number, of: string) => `${concise(number, own)}${of === "1" ? "" : ` ${of}`}`;
  const from = inputs.map((input) => `${input.symbol} = ${withUnit(input.value, input.u, input.unit)}`);
  const lines = [
    `${symbol} = ${withUnit(value, u, unit)}`,
    `from ${from.join("; ")}`,
    `by an integral over the active volume: a formula of ${length} letters, which alcedo trace prints whole${key === undefined ? "" : ` (${key})`}`,
  ];
  return {
    kind: "formula",
    lines: [[{ text: label, tone: "dim" }], typeset(lines[0]!), typeset(lines[1]!), lines[2]!],
    alternative: lines.join(" "),
  };
}

/** What a quantity's uncertainty is made of, the largest part first; small parts are summed, never dropped. */
function budgetBlocks(quantity: Quantity): Block[] {
  const { budget, symbol, u, unit } = quantity;
  if (budget.length === 0 || u === null || u === 0) return [];
  const sorted = [...budget].sort((a, b) => Math.abs(b.share) - Math.abs(a.share));
  const listed = sorted.filter(({ share: part }, i) => Math.abs(part) >= LISTED_SHARE || i === 0);
  const rest = sorted.slice(listed.length);
  const rows: Row[] = listed.map(({ label, type, u: own, unit: ownUnit, sensitivity, contribution, share: part }) => ({
    cells: [
      label,
      type,
      plain(own, 2),
      ownUnit === "1" ? "" : ownUnit,
      plain(sensitivity, 3),
      plain(contribution, 2),
      share(part),
      { bar: part },
    ],
  }));
  const sum = rest.reduce((total, { share: part }) => total + part, 0);
  return [
    {
      kind: "table",
      caption: line("Uncertainty budget of ", typeset(symbol)),
      columns: [
        { head: "input", kind: "text" },
        { head: "type", kind: "text" },
        { head: "u", kind: "number" },
        { head: "unit", kind: "text" },
        { head: "sensitivity", kind: "number" },
        { head: `contribution${unit === "1" ? "" : ` ${unit}`}`, kind: "number" },
        { head: "part of u²", kind: "number" },
        { head: "", kind: "bar" },
      ],
      rows: [
        ...rows,
        ...(rest.length > 0
          ? [
              {
                cells: [
                  `${rest.length} ${rest.length === 1 ? "other input" : "other inputs"}, each below 0.1 %`,
                  "",
                  "",
                  "",
                  "",
                  "",
                  share(sum),
                  { bar: sum },
                ],
              },
            ]
          : []),
      ],
      legend: expandedLegend(quantity),
    },
  ];
}

/** The combined and the expanded uncertainty, with coverage and degrees of freedom. */
export function expandedLegend({ u, U, k, dof, unit, typeA, budget }: Quantity): Text {
  if (u === null) return "";
  const end = unit === "1" ? "" : ` ${unit}`;
  const inputs = `${budget.length} ${budget.length === 1 ? "input" : "inputs"}`;
  if (typeA || U === null || k === null)
    return `Combined standard uncertainty of the known parts: u = ${plain(u, 2)}${end}. No repeats tell the scatter, so there is no U.`;
  const freedom = dof === null ? "infinite degrees of freedom" : `${plain(dof, 3)} effective degrees of freedom`;
  return `From ${inputs}: u = ${plain(u, 2)}${end}, ${freedom}, k = ${k.toFixed(2)}, U = ${plain(U, 2)}${end} (95 %).`;
}
