import { type Formula, formulaOf } from "./formula.ts";
import type { Program } from "./program.ts";

/**
 * The formula of a program's result.
 * @param scalars how the scalar slots are written; column slots stand as their symbols, and names inside the program are
 *   written out, for no step of a trace shows them.
 */
export function programFormula(program: Program, output: number, scalars: readonly Formula[]): Formula {
  const columns = program.columns.length;
  const written = (node: number): Formula =>
    formulaOf(program.tape, node, () => {
      throw new Error("a program has no kernels");
    });
  const translate = (part: Formula): Formula => {
    switch (part.kind) {
      case "reference":
        if (part.node < columns) return { kind: "symbol", symbol: program.columns[part.node]!.symbol };
        return scalars[part.node - columns] ?? translate(written(part.node));
      case "operation":
        return { ...part, left: translate(part.left), right: translate(part.right) };
      case "power":
        return { ...part, base: translate(part.base) };
      case "function":
        return { ...part, arguments: part.arguments.map(translate) };
      default:
        return part;
    }
  };
  return translate(written(program.outputs[output]!));
}
