import { type Campaign, compareEvaluations, concise, evaluate, percent } from "@alcedo-dosimetry/campaign";

/** A figure that is no longer the one that was signed, and the inputs that moved it. */
interface ChangedFigure {
  readonly id: string;
  readonly label: string;
  readonly symbol: string;
  readonly before: string;
  readonly after: string;
  /** Relative to what was signed. */
  readonly change: string;
  /** The inputs, those that did most first. */
  readonly through: readonly { readonly input: string; readonly part: string }[];
}

/** What became of a signed campaign since. */
export interface ChangesSince {
  readonly figures: readonly ChangedFigure[];
  /** Figures that are what they were. */
  readonly unchanged: number;
  /** Ids of figures that are gone, and of those that are new. */
  readonly gone: readonly string[];
  readonly come: readonly string[];
}

/** Inputs that are named for each figure. */
const NAMED = 3;

/** Holds a campaign as it is now against what was signed, figure by figure. */
export function changesSince(signed: Campaign, now: Campaign): ChangesSince {
  const { quantities, onlyBefore, onlyAfter } = compareEvaluations(evaluate(signed), evaluate(now));
  const changed = quantities.filter(({ change, uBefore, uAfter }) => change !== 0 || uBefore !== uAfter);
  return {
    figures: changed.map(({ id, label, symbol, before, after, uBefore, uAfter, change, attributions }) => ({
      ...{ id, label, symbol },
      before: concise(before, uBefore),
      after: concise(after, uAfter),
      change: percent(change / Math.abs(before), true),
      through: attributions
        .filter((one) => one.change !== 0)
        .slice(0, NAMED)
        .map(({ input, change: part }) => ({ input, part: percent(part / Math.abs(before), true) })),
    })),
    unchanged: quantities.length - changed.length,
    gone: onlyBefore,
    come: onlyAfter,
  };
}
