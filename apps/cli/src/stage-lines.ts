import { ABSENT, mainResult, quantitiesById, type Result, STAGE_NAMES, STAGES } from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { MARK_WIDTH, standingMark } from "./standing-mark.ts";
import { padded } from "./text-width.ts";
import { wrapBehind } from "./wrap.ts";

const NAME_WIDTH = Math.max(...Object.values(STAGE_NAMES).map((name) => name.length));

/** The chain, a stage a line: standing, main result, reason. A stage that the campaign does not have is named too. */
export function stageLines(result: Result, channels: readonly string[], { width, ink }: Omit<Page, "print">): string[] {
  const quantities = quantitiesById(result);
  return STAGES.flatMap((id) => {
    const stage = result.stages.find((own) => own.id === id);
    const margin = `${" ".repeat(MARK_WIDTH)}  ${padded(STAGE_NAMES[id], NAME_WIDTH)}  `;
    const main = stage && mainResult(id, quantities, channels);
    const text = stage ? [main, printable(stage.reason)].filter(Boolean).join(" · ") : "no readings in this campaign";
    const [first, ...rest] = wrapBehind(margin, text, width, " ".repeat(margin.length));
    const mark = stage ? standingMark(stage.standing, ink) : ABSENT;
    const blanks = " ".repeat(MARK_WIDTH - (stage ? stage.standing.length + 2 : ABSENT.length));
    return [mark + blanks + first!.slice(MARK_WIDTH), ...rest];
  });
}
