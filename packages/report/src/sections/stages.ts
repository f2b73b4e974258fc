import {
  ABSENT,
  mainResult,
  plain,
  type Quantity,
  quantityText,
  STAGE_NAMES,
  type StageId,
} from "@alcedo-dosimetry/campaign";
import type { Block, Section, TableBlock } from "../document/document.ts";
import { line, typeset } from "../document/text.ts";
import { derivation } from "./derivation.ts";
import { isResultFigure } from "./section-figures.ts";
import { type Material, quantitiesUnder, stageOf } from "./section-material.ts";
import { separationTable } from "./separation-table.ts";
import { standingWords } from "./standing-words.ts";

/** The quantities of a stage by the beginnings of their ids; those in `derived` are followed down to formula and budget. */
const OF_STAGE: Readonly<
  Record<StageId, { readonly derived: readonly string[]; readonly listed: readonly string[]; readonly figures: RegExp }>
> = {
  background: { derived: ["background."], listed: ["background."], figures: /^background/ },
  separation: {
    derived: ["separation.stem-ratio", "separation.weight.", "separation.verified-stem-load", "separation.coefficient"],
    listed: [
      "separation.",
      "signal.separation.",
      "dose.separation.",
      "stem-load.separation.",
      "subtracted-fraction.separation.",
    ],
    figures: /^(?:separation|verification|residual|stem)/,
  },
  calibration: {
    derived: ["calibration.coefficient"],
    listed: [
      "calibration.",
      "signal.calibration.",
      "dose.calibration.",
      "stem-load.calibration.",
      "subtracted-fraction.calibration.",
    ],
    figures: /^calibration/,
  },
  "output-factors": {
    derived: ["output-factor.", "output-factors.drift"],
    listed: [
      "output-factor.",
      "output-factors.",
      "comparison.",
      "equivalent-square.",
      "output-correction.",
      "volume-averaging.",
      "positioning.",
      "signal.output-factors.",
      "dose.output-factors.",
      "stem-load.output-factors.",
      "subtracted-fraction.output-factors.",
    ],
    figures: /^(?:output|budget|comparison|volume|reference|field|drift)/,
  },
};

/** One stage of the chain: standing, results, figures, and where its main numbers come from. */
export function stageSection(material: Material, id: StageId, printed: Set<number>): Section {
  const stage = stageOf(material, id);
  const { derived, listed } = OF_STAGE[id];
  const title = `Stage: ${STAGE_NAMES[id].toLowerCase()}`;
  if (!stage)
    return {
      id,
      title,
      blocks: [{ kind: "paragraph", text: "This campaign has no readings of this stage.", tone: "dim" }],
    };
  const main = mainResult(id, material.quantities, material.interpretation.channels);
  const own = id === "separation" ? separationTable(material) : undefined;
  const results = listed.flatMap((prefix) => quantitiesUnder(material, prefix));
  return {
    id,
    title,
    blocks: [
      {
        kind: "paragraph",
        text: line(
          { text: standingWords(stage.standing), tone: stage.standing === "sound" ? "strong" : "attention" },
          ` · ${stage.reason}`,
        ),
      },
      ...(main === "" ? [] : [{ kind: "paragraph" as const, text: typeset(main), tone: "strong" as const }]),
      ...(own ? [own] : []),
      ...figuresOfStage(material, id).map((figure): Block => ({ kind: "figure", figure })),
      ...(results.length > 0 ? [resultTable(`Results of the stage: ${STAGE_NAMES[id].toLowerCase()}`, results)] : []),
      ...derived
        .flatMap((prefix) => quantitiesUnder(material, prefix))
        .flatMap((quantity) => derivation(material, quantity, printed)),
    ],
  };
}

/** The figures that belong to a stage; what belongs nowhere else goes with the output factors, so that none is lost. */
function figuresOfStage({ figures }: Material, stage: StageId) {
  const home = (id: string): StageId =>
    (Object.keys(OF_STAGE) as StageId[]).find((own) => OF_STAGE[own].figures.test(id)) ?? "output-factors";
  return figures.filter((figure) => isResultFigure(figure) && home(figure.id) === stage);
}

/** Quantities with their uncertainty, one a row. */
function resultTable(caption: string, quantities: readonly Quantity[]): TableBlock {
  return {
    kind: "table",
    caption,
    columns: [
      { head: "id", kind: "code" },
      { head: "symbol", kind: "text" },
      { head: "what", kind: "text" },
      { head: "value", kind: "number" },
      { head: "U", kind: "number" },
      { head: "k", kind: "number" },
      { head: "dof", kind: "number" },
    ],
    rows: quantities.map((quantity) => {
      const { id, symbol, label, U, k, dof, typeA, p, en, unit } = quantity;
      const more = [
        ...(p === undefined ? [] : [`p = ${plain(p, 3)}`]),
        ...(en === undefined ? [] : [`E_n = ${plain(en, 2)}`]),
      ];
      return {
        cells: [
          id,
          typeset(symbol),
          more.length === 0 ? label : line(`${label}; `, typeset(more.join(", "))),
          quantityText(quantity),
          U === null ? (typeA ? "unknown" : ABSENT) : `${plain(U, 2)}${unit === "1" ? "" : ` ${unit}`}`,
          k === null ? ABSENT : k.toFixed(2),
          dof === null ? (typeA ? "unknown" : quantity.u === null ? ABSENT : "∞") : plain(dof, 3),
        ],
      };
    }),
    legend: "Value with its standard uncertainty in brackets; U = k·u for 95 %; dof: effective degrees of freedom.",
  };
}
