import { countInWords, type Finding, placeBehind } from "@alcedo-dosimetry/campaign";
import type { Block, Section } from "../document/document.ts";
import { line } from "../document/text.ts";
import type { Material } from "./section-material.ts";

const MARKS = { error: "✕ error", warning: "▲ warning", notice: "· notice" } as const;

/** What the program noticed: what it means, what it does to the result, how to mend it, and room for what was done. */
export function findings({ evaluation }: Material): Section {
  const { findings: found } = evaluation.result;
  return {
    id: "findings",
    title: "Findings",
    blocks:
      found.length === 0
        ? [{ kind: "paragraph", text: "None: no rule noticed anything in this campaign." }]
        : [{ kind: "paragraph", text: `${countInWords(found)}.` }, ...found.flatMap(findingBlocks)],
  };
}

function findingBlocks(finding: Finding): Block[] {
  const { level, code, message, effect, remedy } = finding;
  return [
    {
      kind: "finding",
      level,
      parts: [
        line({ text: MARKS[level], tone: "strong" }, ` ${message}${placeBehind(finding)} `, {
          text: `[${code}]`,
          tone: "dim",
        }),
        ...(effect === undefined ? [] : [line({ text: "Effect: ", tone: "strong" }, effect)]),
        ...(remedy === undefined ? [] : [line({ text: "Remedy: ", tone: "strong" }, remedy)]),
      ],
    },
    ...(level === "notice" ? [] : [{ kind: "blank" as const, label: "What was done about it" }]),
  ];
}

/** The errors and warnings in a line each, for documents that have no room for more; notices are counted. */
export function findingsInShort({ evaluation }: Material): Block[] {
  const found = evaluation.result.findings;
  if (found.length === 0) return [{ kind: "paragraph", text: "Findings: none." }];
  return [
    { kind: "paragraph", text: `Findings: ${countInWords(found)}; the full record holds each with effect and remedy.` },
    ...found
      .filter(({ level }) => level !== "notice")
      .map(
        ({ level, message, code }): Block => ({
          kind: "finding",
          level,
          parts: [line({ text: MARKS[level], tone: "strong" }, ` ${message} `, { text: `[${code}]`, tone: "dim" })],
        }),
      ),
  ];
}
