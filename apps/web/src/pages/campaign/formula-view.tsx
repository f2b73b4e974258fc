import { plain, type TraceStep } from "@alcedo-dosimetry/campaign";
import { Fragment, type ReactNode } from "react";
import type { TraceNode } from "../../engine/orders.ts";
import { useDecimal } from "../../look/decimal.tsx";
import { SymbolText } from "./symbol-text.tsx";
import "./formula-view.css";

type Formula = NonNullable<TraceStep["formula"]>;

/** What a typeset formula is made of. */
export interface FormulaViewProps {
  readonly formula: Formula;
  readonly inputs: readonly TraceNode[];
  /** Symbols that lead upstream, or the numbers that are put in. */
  readonly as: "symbols" | "numbers";
  readonly onGo: (node: number) => void;
}

/** Digits of numbers put in: enough to do the sum again on a pocket calculator. */
const DIGITS = 7;
/** As strongly as these bind: sums, products, powers, their bases. */
const RANK = { plus: 1, minus: 1, times: 2, over: 2 } as const;

/** A formula as it is written by hand: fractions upright, indices low, each symbol a way to its own origin. */
export function FormulaView({ formula, inputs, as, onGo }: FormulaViewProps) {
  const decimal = useDecimal();
  const steps = new Map(inputs.map((input) => [input.node, input]));
  const leaf = (node: number): ReactNode => {
    const step = steps.get(node);
    if (!step) return <var className="symbol">x</var>;
    if (as === "numbers") return <span className="number">{decimal(plain(step.value, DIGITS))}</span>;
    return (
      <button
        type="button"
        className="formula-go"
        title={`${step.label}: where it comes from`}
        onClick={() => onGo(node)}
      >
        {step.symbol === "" ? step.label : <SymbolText symbol={step.symbol} />}
      </button>
    );
  };
  const set = (part: Formula, rank = 0): ReactNode => {
    const bracket = (own: number, inside: ReactNode) =>
      own < rank ? (
        <>
          <span className="formula-bracket">(</span>
          {inside}
          <span className="formula-bracket">)</span>
        </>
      ) : (
        inside
      );
    switch (part.kind) {
      case "reference":
        return as === "numbers" && (steps.get(part.node)?.value ?? 0) < 0
          ? bracket(0, leaf(part.node))
          : leaf(part.node);
      case "symbol":
        return <SymbolText symbol={part.symbol} />;
      case "number":
        return bracket(
          part.value < 0 ? 0 : 4,
          <span className="number">{decimal(plain(Number(part.value.toPrecision(DIGITS)), DIGITS))}</span>,
        );
      case "operation": {
        const own = RANK[part.operation];
        if (part.operation === "over")
          return (
            <span className="formula-fraction">
              <span className="formula-over">{set(part.left)}</span>
              <span className="unseen"> over </span>
              <span className="formula-under">{set(part.right)}</span>
            </span>
          );
        const sign = { plus: " + ", minus: " − ", times: " · " }[part.operation];
        return bracket(
          own,
          <>
            {set(part.left, own)}
            <span className="formula-sign">{sign}</span>
            {set(part.right, part.operation === "minus" ? own + 1 : own)}
          </>,
        );
      }
      case "power":
        return bracket(
          3,
          <>
            {set(part.base, 4)}
            <sup>{decimal(plain(part.exponent))}</sup>
          </>,
        );
      case "function":
        if (part.name === "−") return bracket(1, <>−{set(part.arguments[0]!, 2)}</>);
        return (
          <>
            {part.name}
            <span className="formula-bracket">(</span>
            {part.arguments.map((argument, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the arguments of a function are told by their place
              <Fragment key={k}>
                {k > 0 && ", "}
                {set(argument)}
              </Fragment>
            ))}
            <span className="formula-bracket">)</span>
          </>
        );
      case "mean":
        return (
          <>
            <span className="formula-words">mean of {part.count} readings of</span> [{set(part.of)}]
          </>
        );
      case "solution":
        return (
          <span className="formula-words">
            {part.of}, {part.where}
          </span>
        );
    }
  };
  return <span className="formula">{set(formula)}</span>;
}
