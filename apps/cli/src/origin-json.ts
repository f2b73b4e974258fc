import { type FormulaTexts, formulaTexts } from "@alcedo-dosimetry/campaign";
import type { TracedReading, TraceStep } from "@alcedo-dosimetry/metrology";

/** One step of a number's origin, as `alcedo trace --json` prints it. */
export interface OriginStep extends Omit<TraceStep, "formula" | "inputs" | "readings"> {
  readonly formula?: FormulaTexts;
  readonly readings?: readonly TracedReading[];
  readonly inputs?: readonly OriginStep[];
  /** How many inputs lie deeper than was asked for. */
  readonly deeper?: number;
  /** True where the step's formula, readings and inputs stand at the first step of the same `node`. */
  readonly above?: true;
}

/** The origin of a number as an object, formulas as text; what several steps use is written out once. */
export function originJson(root: TraceStep, depth: number): OriginStep {
  const shown = new Set<number>();
  const write = (step: TraceStep, level: number): OriginStep => {
    const { formula, readings, inputs, ...own } = step;
    if (!formula) return own;
    if (shown.has(step.node)) return { ...own, above: true };
    shown.add(step.node);
    const texts = formulaTexts(step);
    return {
      ...own,
      ...(texts && { formula: texts }),
      ...(readings && { readings }),
      ...(level < depth
        ? { inputs: inputs.map((input) => write(input, level + 1)) }
        : inputs.length > 0 && { deeper: inputs.length }),
    };
  };
  return write(root, 0);
}
