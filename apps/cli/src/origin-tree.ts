import { concise, formulaTexts, share } from "@alcedo-dosimetry/campaign";
import type { TraceStep } from "@alcedo-dosimetry/metrology";
import { printable } from "./printable.ts";
import { type ReadingsOptions, readingLines } from "./traced-readings.ts";
import { wrap, wrapBehind } from "./wrap.ts";

/** Below this a table reads worse than lines that the terminal breaks. */
const NARROWEST = 32;

/** What a tree is drawn with. */
export interface TreeOptions extends ReadingsOptions {
  /** Steps below the number itself that are shown. */
  readonly depth: number;
}

/**
 * The origin of a number as a tree: each step with its value, its share of the variance, its formula in symbols and with the
 * numbers put in, and the readings behind a mean. A step that has been shown stands again as one line.
 */
export function originTree(root: TraceStep, options: TreeOptions): string[] {
  const shown = new Set<number>();
  const { ink, width } = options;
  const draw = (step: TraceStep, head: string, stem: string, depth: number): string[] => {
    const again = shown.has(step.node) && step.formula !== undefined;
    shown.add(step.node);
    const deeper = step.inputs.length > 0 && depth < options.depth && !again;
    const below = deeper ? `${stem}│ ` : `${stem}  `;
    const lines = titleLines(step, head, below, options, again);
    if (again) return lines;
    const texts = formulaTexts(step);
    if (texts) {
      const behind = `${below}= `;
      const rest = `${below}  `;
      lines.push(...wrapBehind(behind, texts.symbols, width, rest));
      if (texts.numbers !== texts.symbols) lines.push(...wrapBehind(behind, texts.numbers, width, rest));
    }
    lines.push(
      ...readingLines(step, { ...options, width: Math.max(NARROWEST, width - below.length) }).map(
        (line) => below + line,
      ),
    );
    if (!deeper && step.inputs.length > 0) {
      const count = step.inputs.length;
      lines.push(`${below}${ink.dim(`… ${count} ${count === 1 ? "input" : "inputs"} beneath (--depth ${depth + 1})`)}`);
    }
    if (!deeper) return lines;
    step.inputs.forEach((input, i) => {
      const last = i === step.inputs.length - 1;
      lines.push(...draw(input, `${stem}${last ? "└─" : "├─"} `, `${stem}${last ? "  " : "│ "} `, depth + 1));
    });
    return lines;
  };
  return draw(root, "", "", 0);
}

/** `q̂_blue  3.97363(62) nC  net signal, … · 0.1 %`, on as many lines as it needs. */
function titleLines(
  step: TraceStep,
  head: string,
  below: string,
  { ink, width }: TreeOptions,
  again: boolean,
): string[] {
  const { symbol, label, unit, value, u, input } = step;
  const amount = `${concise(value, u)}${unit === "1" ? "" : ` ${unit}`}`;
  const kind = input === "constant" ? ", held fixed" : "";
  const name = printable(symbol === "" ? "(no name)" : symbol);
  const rest = `${printable(label)}${kind} · ${share(step.share)}${again ? " · as above" : ""}`;
  const [first = "", ...others] = wrap(`${name} = ${amount}  ${rest}`, Math.max(24, width - head.length));
  const inked = first.startsWith(name) ? ink.bold(name) + first.slice(name.length) : first;
  return [head + inked, ...others.map((line) => `${below}  ${line}`)];
}
