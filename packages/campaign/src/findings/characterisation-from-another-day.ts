import { list } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const where = { series: "characterisation" } as const;

/** A characterisation beyond its limits of time or dose. */
export const characterisationStale: Rule = {
  code: "characterisation-stale",
  level: "warning",
  sees: "a characterisation beyond its limits of time or of dose to the fibre",
  threshold: {
    value: 365,
    unit: "days",
    source: "yearly characterisation, common practice; 1000 Gy, proposed default",
  },
  check({ characterisation }) {
    if (!characterisation || characterisation.age.stale.length === 0) return [];
    const { stored, age } = characterisation;
    return [
      {
        level: "warning",
        code: "characterisation-stale",
        message: `The characterisation of ${stored.date} is stale: ${age.stale.join("; ")}.`,
        effect:
          "Plastic discolours with dose and time, blue light first: the stem ratio and the sensitivity may both have moved.",
        remedy: "Characterise the fibre anew, or verify the old stem ratio with much fibre in the beam and say so.",
        where,
        facts: {
          ...(age.days !== undefined && { days: age.days }),
          ...(age.dose_Gy !== undefined && { dose_Gy: age.dose_Gy }),
        },
      },
    ];
  },
};

/** A characterisation whose age cannot be told, or that was made after the readings. */
export const characterisationAgeDoubtful: Rule = {
  code: "characterisation-age-doubtful",
  level: "notice",
  sees: "a characterisation whose age on the day of use is not known, or below zero",
  check({ characterisation }) {
    if (!characterisation) return [];
    const { stored, age } = characterisation;
    if (age.days !== undefined && age.days >= 0) return [];
    return [
      {
        level: "notice",
        code: "characterisation-age-doubtful",
        message:
          age.days === undefined
            ? `Nothing says on which day the characterisation of ${stored.date} is used.`
            : `The characterisation of ${stored.date} was made after ${age.asOf}, the day on which it is used.`,
        remedy:
          age.days === undefined
            ? "Give the readings their times, or evaluate with --as-of DATE."
            : "Compare with the evaluation by the characterisation that was in force at the time.",
        where,
      },
    ];
  },
};

/** Parts of the identity that only one side states. */
export const characterisationIdentityOpen: Rule = {
  code: "characterisation-identity-open",
  level: "warning",
  sees: "parts of a characterisation's identity that only it or only the campaign states",
  check({ characterisation }) {
    const open = characterisation?.unstated ?? [];
    if (open.length === 0) return [];
    return [
      {
        level: "warning",
        code: "characterisation-identity-open",
        message: `Whether the characterisation holds here cannot be seen in full: only one of the two states ${list(open)}.`,
        effect: "With another reader, gain, energy or filter the stem ratio is another.",
        remedy: "State it under detector and beam in datapackage.json, as it stands in the characterisation.",
        where: { file: "datapackage.json", key: "/alcedo" },
      },
    ];
  },
};
