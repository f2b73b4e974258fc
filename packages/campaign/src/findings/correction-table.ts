import { CORRECTION_TABLE_REACH, type FieldFactors, type OutputFactors } from "@alcedo-dosimetry/dosimetry";
import { type Finding, sourceInWords } from "../finding.ts";
import type { OutputCorrectionSet } from "../reading.ts";
import { list, percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

const REACH = percent(CORRECTION_TABLE_REACH);

const squareOf = ({ size }: FieldFactors) => size.equivalentSquare.value;

const placeOf = ({ file, sheet }: OutputCorrectionSet) => ({
  series: "output-corrections",
  file,
  ...(sheet !== undefined && { sheet }),
});

/** From the smallest to the largest size of a table: `5 to 100 mm`. */
function spanOf({ values }: OutputCorrectionSet): string {
  const sizes = values.map(({ equivalent_square_mm }) => equivalent_square_mm);
  return `${Math.min(...sizes)} to ${Math.max(...sizes)} mm`;
}

/** A table of output corrections that does not reach to the reference field: there is nothing to relate its factors to. */
export function correctionTableWithoutReference(
  table: OutputCorrectionSet | undefined,
  { correctionTable, referenceFactors }: OutputFactors,
): Finding | undefined {
  if (!table || !correctionTable || correctionTable.reference) return undefined;
  const square = squareOf(referenceFactors);
  return {
    level: "error",
    code: "correction-table-without-reference",
    message: `${sourceInWords(table)}: the table covers ${spanOf(table)}, and the reference ${referenceFactors.name} has an equivalent square of ${significant(square, 3)} mm.`,
    effect: "No output factor can be given: the factor of a field is taken over that of the reference.",
    remedy:
      "Add a row for the reference field. If it is the field that the factors are relative to, its factor is 1 by definition, with u_percent 0.",
    where: placeOf(table),
    facts: { equivalentSquare_mm: square },
  };
}

/** Fields that the table of output corrections does not reach to. */
export const correctionTableTooShort: Rule = {
  code: "correction-table-too-short",
  level: "warning",
  sees: "a field farther outside the table of output corrections than its ends serve",
  threshold: { value: CORRECTION_TABLE_REACH, unit: "1", source: "proposed default" },
  check({ outputFactors, typed, stopped }) {
    const table = typed["output-corrections"];
    const uncorrected = outputFactors?.uncorrected ?? [];
    if (!table || uncorrected.length === 0 || stopped.has("output-factors")) return [];
    const sizes = uncorrected.map((field) => `${field.name} (${significant(squareOf(field), 3)} mm)`);
    return [
      {
        level: "warning",
        code: "correction-table-too-short",
        message: `${sourceInWords(table)}: the table covers ${spanOf(table)}, and ${list(sizes)} ${sizes.length === 1 ? "lies" : "lie"} more than ${REACH} outside; nothing is extrapolated.`,
        effect: `No output factor is given for ${list(uncorrected.map(({ name }) => name))}. Published tables end where a detector's correction becomes large or unknown.`,
        remedy: "Add rows that reach to these fields, or measure them with a detector whose corrections do.",
        where: { ...placeOf(table), condition: uncorrected[0]!.name },
        facts: { fields: uncorrected.length },
      },
    ];
  },
};

/** From this part of k on, what the end of the table adds to the uncertainty is worth a word. */
const WORTH_A_WORD = 0.0005;

/** Fields a little outside the table: k is that of its end. */
export const correctionAtTableEnd: Rule = {
  code: "correction-at-table-end",
  level: "notice",
  sees: "a field a little outside the table of output corrections, by enough to count",
  threshold: {
    value: WORTH_A_WORD,
    unit: "1",
    source: "a tenth of u of a water-equivalent detector, proposed default",
  },
  check({ outputFactors, typed }) {
    const table = typed["output-corrections"];
    if (!table || !outputFactors?.correctionTable) return [];
    const { correctionTable, fields, referenceFactors } = outputFactors;
    const read = [
      { field: referenceFactors, beyond: correctionTable.reference?.beyond },
      ...fields.map((field) => ({ field, beyond: field.tabled?.beyond })),
    ];
    return read.flatMap(({ field, beyond }): Finding[] => {
      if (!beyond || beyond.u < WORTH_A_WORD) return [];
      return [
        {
          level: "notice",
          code: "correction-at-table-end",
          message: `${sourceInWords(table)}: ${field.name} has an equivalent square of ${significant(squareOf(field), 3)} mm, outside the table; its factor is that of ${beyond.end_mm} mm.`,
          effect: `${percent(beyond.u)} is added to its standard uncertainty: as much as the table's last straight line would change the factor.`,
          remedy: "Add a row that reaches to it.",
          where: { ...placeOf(table), condition: field.name },
          facts: { u: beyond.u },
        },
      ];
    });
  },
};

/** Whether volume averaging is in the table or in k_vol: in both it would count twice. */
export const volumeAveragingInTable: Rule = {
  code: "volume-averaging-in-table",
  level: "warning",
  sees: "output corrections that do not say whether they hold volume averaging, or k_volume beside those that do",
  check({ outputFactors, typed }) {
    const table = typed["output-corrections"];
    if (!table || outputFactors?.correctionTable?.volumeAveraging !== "included") return [];
    const stated = [outputFactors.referenceFactors, ...outputFactors.fields].filter((field) => field.stated);
    const where = { ...placeOf(table), column: "volume_averaging" };
    const common = { code: "volume-averaging-in-table", where };
    const remedy = "Write included or apart in every row of volume_averaging.";
    if (stated.length > 0)
      return [
        {
          ...common,
          level: "warning",
          message: `${sourceInWords(table)}: its factors hold volume averaging${table.volumeAveraging ? "" : " (taken for granted, since the table does not say)"}, so the k_volume of ${list(stated.map(({ name }) => name))} is not used.`,
          effect: "With both, volume averaging would be corrected twice.",
          remedy: "Empty k_volume; or write apart in every row of volume_averaging, if the factors do not hold it.",
        },
      ];
    if (table.volumeAveraging) return [];
    return [
      {
        ...common,
        level: "notice",
        message: `${sourceInWords(table)}: the table does not say whether its factors hold volume averaging; they are taken to, as IAEA TRS-483 defines them, and none is computed.`,
        remedy,
      },
    ];
  },
};

/** A stated output correction that a table replaces. */
export const outputCorrectionReplaced: Rule = {
  code: "output-correction-replaced",
  level: "notice",
  sees: "a stated assumption outputCorrection beside a table of output corrections",
  check({ campaign, typed, outputFactors }) {
    const table = typed["output-corrections"];
    const stated = campaign.descriptor.alcedo.assumptions?.outputCorrection;
    if (!table || !outputFactors || !stated) return [];
    return [
      {
        level: "notice",
        code: "output-correction-replaced",
        message: `datapackage.json: assumptions.outputCorrection, ${stated.value} with u = ${stated.u}, is not used; ${sourceInWords(table)} stands in its place.`,
        remedy: "Take it out, if the table is meant.",
        where: { file: "datapackage.json", key: "/alcedo/assumptions/outputCorrection" },
      },
    ];
  },
};
