import { list, mainResult, notGiven, STAGE_NAMES, STAGES, type StageId } from "@alcedo-dosimetry/campaign";
import type { Block, Section, Text } from "../document/document.ts";
import { line, typeset, user } from "../document/text.ts";
import { outputFactorTable } from "./output-factor-table.ts";
import { type Material, stageOf } from "./section-material.ts";
import { standingWords } from "./standing-words.ts";

/** How a number with its uncertainty is to be read; stands before the first of them. */
export const CONCISE_LEGEND =
  "0.6123(21) is 0.6123 with a standard uncertainty of 0.0021. U = k·u is the expanded uncertainty for a coverage of 95 %.";

/** The question that a campaign was measured for, and the answer: the first that a reader sees. */
export function answer(material: Material): Section {
  const { evaluation, campaign } = material;
  const { description } = campaign.descriptor;
  const table = outputFactorTable(material);
  const blocks: Block[] = [
    { kind: "heading", level: 2, text: "The question" },
    { kind: "paragraph", text: question(material), tone: "lead" },
    ...(description === undefined ? [] : [{ kind: "paragraph" as const, text: [user(description)] }]),
    { kind: "heading", level: 2, text: "The answer" },
    {
      kind: "paragraph",
      text: line("The campaign is ", { text: standingWords(evaluation.result.standing), tone: "strong" }, "."),
    },
    { kind: "facts", facts: STAGES.map((id) => [STAGE_NAMES[id], stageAnswer(material, id)] as const) },
    { kind: "paragraph", text: CONCISE_LEGEND, tone: "dim" },
    ...(table ? [table] : []),
    ...notGiven(evaluation.result).map((text): Block => ({ kind: "paragraph", text, tone: "strong" })),
  ];
  return { id: "answer", title: "Question and answer", blocks };
}

/** What a campaign asks, told from the series that it has. */
export function question({ campaign, interpretation }: Material): Text {
  const { series } = interpretation;
  const { detector, beam } = campaign.descriptor.alcedo;
  const fields = new Set(
    (series["output-factors"]?.readings ?? []).filter(({ role }) => role === "field").map(({ condition }) => condition),
  ).size;
  const asked = [
    ...(fields > 0 ? [`the field output factors of ${fields === 1 ? "one field" : `${fields} fields`}`] : []),
    ...(series.separation ? ["the stem ratio"] : []),
    ...(series.calibration ? ["the calibration coefficient"] : []),
  ];
  const what = asked.length > 0 ? list(asked) : "the background";
  return line(
    `What ${asked.length > 1 || fields > 1 ? "are" : "is"} ${what}, measured with fibre `,
    user(detector.id),
    " in beam ",
    user(beam.id),
    "?",
  );
}

function stageAnswer(material: Material, id: StageId): Text {
  const stage = stageOf(material, id);
  if (!stage) return [{ text: "no readings in this campaign", tone: "dim" }];
  const main = mainResult(id, material.quantities, material.interpretation.channels);
  return line(
    { text: standingWords(stage.standing), tone: stage.standing === "sound" ? "strong" : "attention" },
    ...(main === "" ? [] : [" · ", typeset(main)]),
    ` · ${stage.reason}`,
  );
}
