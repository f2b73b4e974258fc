import { type Finding, isError, sourceInWords, type Where } from "./finding.ts";
import { structureFinding } from "./structure-finding.ts";

/** Collects findings about one table; lists so many of each kind and counts the rest. */
export interface FindingList {
  add(finding: Finding): void;
  /** What was collected: errors first, each kind in the order found, with how many more there are. */
  all(): Finding[];
}

/** Errors, and likewise notices, that are listed one by one for one table. */
export const LISTED = 50;

/**
 * A list that names at most 50 errors and 50 warnings or notices of a table and says how many more there are: a column
 * pasted into the wrong place makes thousands, and nothing may disappear in silence.
 */
export function findingList(where: Where): FindingList {
  const errors: Finding[] = [];
  const others: Finding[] = [];
  let moreErrors = 0;
  let moreOthers = 0;
  return {
    add(finding) {
      if (isError(finding)) {
        if (errors.length < LISTED) errors.push(finding);
        else moreErrors += 1;
      } else if (others.length < LISTED) others.push(finding);
      else moreOthers += 1;
    },
    all() {
      const place = sourceInWords(where);
      const more = (code: "more-errors" | "more-notices", count: number, what: string): Finding[] =>
        count === 0
          ? []
          : [
              structureFinding(
                code,
                `${place}: ${count} more ${count === 1 ? `${what} is` : `${what}s are`} not listed.`,
                {
                  where,
                  facts: { more: count },
                },
              ),
            ];
      return [
        ...errors,
        ...more("more-errors", moreErrors, "error"),
        ...others,
        ...more("more-notices", moreOthers, "notice"),
      ];
    },
  };
}
