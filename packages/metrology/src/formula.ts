import { Operation } from "./operations.ts";
import type { Tape } from "./tape.ts";

/** A formula as data, made from the tape: what a screen typesets and a terminal prints. */
export type Formula =
  | { readonly kind: "reference"; readonly node: number }
  | { readonly kind: "symbol"; readonly symbol: string }
  | { readonly kind: "number"; readonly value: number }
  | {
      readonly kind: "operation";
      readonly operation: "plus" | "minus" | "times" | "over";
      readonly left: Formula;
      readonly right: Formula;
    }
  | { readonly kind: "power"; readonly base: Formula; readonly exponent: number }
  | { readonly kind: "function"; readonly name: string; readonly arguments: readonly Formula[] }
  | { readonly kind: "mean"; readonly of: Formula; readonly count: number }
  | { readonly kind: "solution"; readonly of: string; readonly where: string };

const BINARY = {
  [Operation.add]: "plus",
  [Operation.subtract]: "minus",
  [Operation.multiply]: "times",
  [Operation.divide]: "over",
} as const;

const FUNCTION: Readonly<Record<number, string>> = {
  [Operation.exponential]: "exp",
  [Operation.logarithm]: "ln",
  [Operation.sine]: "sin",
  [Operation.cosine]: "cos",
  [Operation.errorFunction]: "erf",
  [Operation.squareRoot]: "√",
  [Operation.blurredDisc]: "disc",
  [Operation.minimum]: "min",
};

/**
 * The formula of a node in terms of the named nodes under it.
 * @param output how the output of a kernel is written.
 */
export function formulaOf(tape: Tape, node: number, output: (node: number) => Formula): Formula {
  const operand = (index: number): Formula =>
    tape.names.has(index) ? { kind: "reference", node: index } : expand(index);
  const expand = (index: number): Formula => {
    const operation = tape.operations[index]!;
    const a = tape.a[index]!;
    switch (operation) {
      case Operation.input:
        return { kind: "reference", node: index };
      case Operation.literal:
        return { kind: "number", value: tape.c[index]! };
      case Operation.output:
        return output(index);
      case Operation.add:
      case Operation.subtract:
      case Operation.multiply:
      case Operation.divide:
        return {
          kind: "operation",
          operation: BINARY[operation],
          left: operand(a),
          right: operand(tape.b[index]!),
        };
      case Operation.negate:
        return { kind: "function", name: "−", arguments: [operand(a)] };
      case Operation.power:
        return { kind: "power", base: operand(a), exponent: tape.c[index]! };
      default:
        return {
          kind: "function",
          name: FUNCTION[operation]!,
          arguments: tape.b[index]! < 0 ? [operand(a)] : [operand(a), operand(tape.b[index]!)],
        };
    }
  };
  return expand(node);
}

/** The nodes that a formula refers to, each once, in the order in which they stand. */
export function references(formula: Formula): number[] {
  const seen = new Set<number>();
  const walk = (part: Formula): void => {
    if (part.kind === "reference") seen.add(part.node);
    else if (part.kind === "operation") {
      walk(part.left);
      walk(part.right);
    } else if (part.kind === "power") walk(part.base);
    else if (part.kind === "function") part.arguments.forEach(walk);
    else if (part.kind === "mean") walk(part.of);
  };
  walk(formula);
  return [...seen];
}

const RANK = { plus: 1, minus: 1, times: 2, over: 2 } as const;
const SIGN = { plus: " + ", minus: " − ", times: " · ", over: " / " } as const;

/**
 * A formula as a line of text.
 * @param write how a reference is written: its symbol, or its number.
 */
export function formulaText(formula: Formula, write: (node: number) => string): string {
  return textOf(formula, 0, write);
}

/** Whether a text begins with a sign, typed or typeset. */
function isSigned(text: string): boolean {
  return text.startsWith("-") || text.startsWith("−");
}

/** Text that stands on its own beside an operator of that rank (0 none, 1 sums, 2 products, 3 powers, 4 their bases). */
function textOf(formula: Formula, rank: number, write: (node: number) => string): string {
  const bracket = (text: string, own: number) => (own < rank ? `(${text})` : text);
  switch (formula.kind) {
    case "reference": {
      const text = write(formula.node);
      return isSigned(text) ? bracket(text, 0) : text;
    }
    case "symbol":
      return formula.symbol;
    case "number":
      return formula.value < 0 ? bracket(`−${-formula.value}`, 0) : `${formula.value}`;
    case "operation": {
      const own = RANK[formula.operation];
      // a − (b + c) and a/(b·c) need their brackets; a + (b + c) and a·(b·c) do not
      const inner = formula.operation === "minus" || formula.operation === "over" ? own + 1 : own;
      const right = textOf(formula.right, inner, write);
      // nor may two signs stand side by side
      const behind = isSigned(right) ? `(${right})` : right;
      return bracket(textOf(formula.left, own, write) + SIGN[formula.operation] + behind, own);
    }
    case "power":
      return bracket(
        `${textOf(formula.base, 4, write)}^${formula.exponent < 0 ? `(−${-formula.exponent})` : formula.exponent}`,
        3,
      );
    case "function":
      if (formula.name === "−") return bracket(`−${textOf(formula.arguments[0]!, 2, write)}`, 1);
      return `${formula.name}(${formula.arguments.map((part) => textOf(part, 0, write)).join(", ")})`;
    case "mean":
      return bracket(`mean of ${formula.count} of [${textOf(formula.of, 0, write)}]`, 1);
    case "solution":
      return bracket(`${formula.of}, ${formula.where}`, 0);
  }
}
