import { type Campaign, type Evaluation, isInvented, STAGES } from "@alcedo-dosimetry/campaign";
import type { Block, DocumentKind, ReportDocument, Section } from "./document/document.ts";
import { user } from "./document/text.ts";
import { answer } from "./sections/answer.ts";
import { assumptions } from "./sections/assumptions.ts";
import { characterisation, coefficientOrigins, validity } from "./sections/certificate.ts";
import { cautions, MARKING, signatures } from "./sections/closing.ts";
import { findings, findingsInShort } from "./sections/findings.ts";
import { outputFactorBackground, outputFactorSheet } from "./sections/output-factor-sheet.ts";
import { readings } from "./sections/readings.ts";
import { type Material, materialOf } from "./sections/section-material.ts";
import { setUp } from "./sections/set-up.ts";
import { stageSection } from "./sections/stages.ts";
import type { SignedBy } from "./signed-by.ts";

/** How a document is made. */
export interface ReportOptions {
  readonly kind: DocumentKind;
  /** The date that the document bears, `YYYY-MM-DD`; without it the date is left to be filled in by hand. */
  readonly date?: string;
  /** Signatures under this evaluation, in the order in which they were made. */
  readonly signed?: readonly SignedBy[];
}

const TYPES: Readonly<Record<DocumentKind, string>> = {
  record: "Full record",
  "output-factors": "Table of field output factors",
  certificate: "Certificate of characterisation",
};

/**
 * A document from an evaluation, as plain data: same campaign, same options, same document.
 *
 * @param evaluation of that campaign; one without a model gives a document that says why there is no result.
 */
export function reportDocument(
  campaign: Campaign,
  evaluation: Evaluation,
  { kind, date, signed = [] }: ReportOptions,
): ReportDocument {
  const material = materialOf(campaign, evaluation, { signed, ...(date !== undefined && { date }) });
  const { descriptor } = campaign;
  const { result } = evaluation;
  const marking = isInvented(descriptor) ? MARKING : undefined;
  return {
    kind,
    type: TYPES[kind],
    title: descriptor.title ?? descriptor.name,
    campaign: descriptor.name,
    input: result.input,
    version: result.alcedo,
    ...(marking !== undefined && { marking }),
    ...(date !== undefined && { date }),
    lead: leadOf(material),
    sections: sectionsOf(material, kind, marking),
  };
}

function leadOf({ campaign, evaluation, date }: Material): Block[] {
  return [
    {
      kind: "facts",
      facts: [
        ["Campaign", [user(campaign.descriptor.name)]],
        ["Input", [{ text: evaluation.result.input, tone: "number" }]],
        ["Evaluated by", `alcedo ${evaluation.result.alcedo}`],
        ...(date === undefined ? [] : [["Date", date] as const]),
      ],
    },
  ];
}

function sectionsOf(material: Material, kind: DocumentKind, marking: string | undefined): Section[] {
  switch (kind) {
    case "record": {
      const printed = new Set<number>();
      return [
        answer(material),
        findings(material),
        setUp(material),
        ...STAGES.map((id) => stageSection(material, id, printed)),
        assumptions(material),
        readings(material),
        cautions(marking),
        signatures(material),
      ];
    }
    case "output-factors":
      return [
        outputFactorSheet(material),
        endingThePage(signatures(material)),
        outputFactorBackground(material),
        cautions(marking),
      ];
    case "certificate":
      return [
        characterisation(material),
        validity(material),
        { id: "findings", title: "Findings", blocks: findingsInShort(material) },
        cautions(marking),
        signatures(material),
        coefficientOrigins(material),
      ];
  }
}

/** The section, and a new page after it. */
function endingThePage(section: Section): Section {
  return { ...section, blocks: [...section.blocks, { kind: "page-break" }] };
}
