import {
  ABSENT,
  ASSUMPTION_DEFAULTS,
  beamInWords,
  concise,
  detectorInWords,
  numberText,
  plain,
  resolveAssumptions,
} from "@alcedo-dosimetry/campaign";
import type { Block, Section, TableBlock } from "../document/document.ts";
import { line, user } from "../document/text.ts";
import { CONCISE_LEGEND, question } from "./answer.ts";
import { findingsInShort } from "./findings.ts";
import { fieldsOf, outputFactorTable } from "./output-factor-table.ts";
import { type Material, quantitiesUnder, stageOf } from "./section-material.ts";
import { standingWords } from "./standing-words.ts";
import { timesInWords } from "./times.ts";

/** First page of the table for who owns the planning model: the question, the table, and what it is worth. */
export function outputFactorSheet(material: Material): Section {
  const { campaign } = material;
  const { detector, beam } = campaign.descriptor.alcedo;
  const stage = stageOf(material, "output-factors");
  const table = outputFactorTable(material);
  const reference = fieldsOf(material).find(({ role }) => role === "reference")?.condition;
  return {
    id: "table",
    title: "Field output factors",
    blocks: [
      { kind: "paragraph", text: question(material), tone: "lead" },
      {
        kind: "facts",
        facts: [
          ["Beam", [user(beamInWords(beam))]],
          ["Detector", [user(detectorInWords(detector))]],
          ...(reference === undefined ? [] : [["Reference field", reference] as const]),
          ["Readings taken", timesInWords(material) ?? [{ text: "times not stated", tone: "dim" as const }]],
          [
            "Standing",
            stage
              ? line({ text: standingWords(stage.standing), tone: "strong" }, ` · ${stage.reason}`)
              : "no readings of output factors",
          ],
        ],
      },
      { kind: "paragraph", text: CONCISE_LEGEND, tone: "dim" },
      ...(table
        ? [table]
        : [
            {
              kind: "paragraph" as const,
              text: `No output factors: ${stage?.reason ?? "this campaign has no readings of them"}.`,
              tone: "strong" as const,
            },
          ]),
      ...findingsInShort(material),
    ],
  };
}

/** Second page: what was corrected for, how the factors lie on a curve, and what was assumed. */
export function outputFactorBackground(material: Material): Section {
  const curve = material.figures.find(({ id }) => id.startsWith("output-factor"));
  return {
    id: "background",
    title: "What is in them",
    blocks: [
      ...(curve ? [{ kind: "figure" as const, figure: curve }] : []),
      ...correctionTable(material),
      ...defaults(material),
    ],
  };
}

function correctionTable(material: Material): Block[] {
  const { quantities } = material;
  if (quantitiesUnder(material, "positioning.").length === 0) return [];
  // where a table of output corrections holds volume averaging, none is a factor of its own
  const tabled = quantitiesUnder(material, "output-correction.").length > 0;
  const averaged = quantitiesUnder(material, "volume-averaging.").length > 0;
  const compared = quantitiesUnder(material, "comparison.");
  const table: TableBlock = {
    kind: "table",
    caption: "Corrections and comparison, field by field",
    columns: [
      { head: "field", kind: "code" },
      ...(tabled ? [{ head: "k_other", kind: "number" as const }] : []),
      ...(averaged ? [{ head: "k_vol", kind: "number" as const }] : []),
      { head: "k_pos", kind: "number" },
      { head: "stem load", kind: "number" },
      ...(compared.length > 0
        ? [
            { head: "difference %", kind: "number" as const },
            { head: "E_n", kind: "number" as const },
            { head: "from", kind: "text" as const },
          ]
        : []),
    ],
    rows: fieldsOf(material).map(({ condition, role }) => {
      const own = compared.find(({ id }) => id.endsWith(`.${condition}`));
      return {
        cells: [
          condition,
          ...(tabled ? [numberText(quantities.get(`output-correction.${condition}`))] : []),
          ...(averaged ? [numberText(quantities.get(`volume-averaging.${condition}`))] : []),
          numberText(quantities.get(`positioning.${condition}`)),
          numberText(quantities.get(`stem-load.output-factors.${condition}`)),
          ...(compared.length > 0
            ? [
                own ? concise(100 * own.value, own.u === null ? null : 100 * own.u) : ABSENT,
                own?.en === undefined ? ABSENT : plain(own.en, 2),
                own ? [user(own.id.slice("comparison.".length, own.id.length - condition.length - 1))] : ABSENT,
              ]
            : []),
        ],
        ...(role === "reference" && { tone: "reference" as const }),
      };
    }),
    legend: `${tabled ? "k_other: output correction off the table, over the reference's; " : ""}${averaged ? "k_vol: volume averaging; " : ""}k_pos: positioning; all are in Ω already. Ω holds for the measured field sizes.`,
  };
  return [table];
}

function defaults({ campaign }: Material): Block[] {
  const { defaulted } = resolveAssumptions(campaign.descriptor);
  const sources = new Map(Object.values(ASSUMPTION_DEFAULTS).map(({ key, source }) => [key, source]));
  return [
    {
      kind: "paragraph",
      text:
        defaulted.length === 0
          ? "All assumptions are stated by the campaign; none is a default."
          : `Assumptions left at their default: ${defaulted.map((key) => `${key.replace(/^alcedo\.(?:assumptions\.|criteria\.)?/, "")} (${sources.get(key)!})`).join("; ")}.`,
    },
  ];
}
