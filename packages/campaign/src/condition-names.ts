import { placeInWords, rowInWords, type Where } from "./finding.ts";
import type { FindingList } from "./finding-list.ts";
import { fittingName, NAME_PATTERN } from "./name-text.ts";
import { shown } from "./shown-text.ts";
import { structureFinding } from "./structure-finding.ts";

/** Gives each condition of one table the name that results use. */
export interface ConditionNames {
  /** The fitted name, or `undefined` (with an error) when nothing of the text can be kept. */
  fit(text: string, where: () => Where & { row: number; line: number }): string | undefined;
}

/**
 * Fits the names of conditions to their pattern, with one notice per text that was changed, and an error where two texts
 * become one name: they may be two conditions or one typed in two ways, and only the physicist knows which.
 */
export function conditionNames(findings: FindingList): ConditionNames {
  const fitted = new Map<string, string>();
  const firstOf = new Map<string, { text: string; where: Where & { row: number } }>();
  return {
    fit(text, whereOf) {
      const known = fitted.get(text);
      if (known !== undefined) return known === "" ? undefined : known;
      const name = fittingName(text);
      fitted.set(text, name);
      const where = whereOf();
      const place = placeInWords(where);
      if (name === "") {
        findings.add(
          structureFinding("name-unusable", `${place}: nothing of the name ${shown(text)} can be used.`, { where }),
        );
        return undefined;
      }
      const first = firstOf.get(name);
      if (first !== undefined) {
        const message = `${place}: the name ${shown(text)} becomes ${name}, like ${shown(first.text)} in ${rowInWords(first.where)}.`;
        const remedy = `Write the same text in both rows if they are one condition (${name}, say), or give them different names.`;
        findings.add(
          structureFinding("name-collision", message, { where, remedy, facts: { name, otherRow: first.where.row } }),
        );
        return name;
      }
      firstOf.set(name, { text, where });
      if (!NAME_PATTERN.test(text)) {
        const message = `${place}: the condition ${shown(text)} is called ${name} in results.`;
        findings.add(structureFinding("name-renamed", message, { where, facts: { name } }));
      }
      return name;
    },
  };
}
