import { type Result, STAGES, type StageId } from "@alcedo-dosimetry/campaign";
import { ABSENT } from "./concise.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { byId, number, type Quantities, withUnit } from "./quantities.ts";
import { MARK_WIDTH, standingMark } from "./standing-mark.ts";
import { padded } from "./text-width.ts";
import { wrapBehind } from "./wrap.ts";

const NAMES: Readonly<Record<StageId, string>> = {
  background: "Background",
  separation: "Separation",
  calibration: "Calibration",
  "output-factors": "Output factors",
};
const NAME_WIDTH = Math.max(...Object.values(NAMES).map((name) => name.length));

/** The chain, a stage a line: standing, main result, reason. A stage that the campaign does not have is named too. */
export function stageLines(result: Result, channels: readonly string[], { width, ink }: Omit<Page, "print">): string[] {
  const quantities = byId(result);
  return STAGES.flatMap((id) => {
    const stage = result.stages.find((own) => own.id === id);
    const margin = `${" ".repeat(MARK_WIDTH)}  ${padded(NAMES[id], NAME_WIDTH)}  `;
    const main = stage && mainResult(id, quantities, channels);
    const text = stage ? [main, printable(stage.reason)].filter(Boolean).join(" · ") : "no readings in this campaign";
    const [first, ...rest] = wrapBehind(margin, text, width, " ".repeat(margin.length));
    const mark = stage ? standingMark(stage.standing, ink) : ABSENT;
    const blanks = " ".repeat(MARK_WIDTH - (stage ? stage.standing.length + 2 : ABSENT.length));
    return [mark + blanks + first!.slice(MARK_WIDTH), ...rest];
  });
}

/** A stage's own figure: what the stages below take from it. Empty where it has none. */
function mainResult(id: StageId, quantities: Quantities, channels: readonly string[]): string {
  switch (id) {
    case "background":
      return present(channels, (channel) => {
        const rate = quantities.get(`background.${channel}`);
        return rate && `${channel} ${withUnit(rate)}`;
      });
    case "separation": {
      const ratio = quantities.get("separation.stem-ratio");
      const verified = quantities.get("separation.verified-stem-load");
      const weights = ratio
        ? `stem ratio ρ ${number(ratio)}`
        : present(channels, (channel) => {
            const weight = quantities.get(`separation.weight.${channel}`);
            return weight && `${weight.symbol} ${number(weight)}`;
          });
      return weights + (verified ? `, verified up to a stem load of ${number(verified)}` : "");
    }
    case "calibration": {
      const own = quantities.get("calibration.coefficient");
      return own ? `N_D ${withUnit(own)}` : "";
    }
    case "output-factors":
      return smallestField(quantities);
  }
}

function smallestField(quantities: Quantities): string {
  const prefix = "output-factor.";
  const fields = [...quantities.values()].filter(({ id }) => id.startsWith(prefix));
  const size = (id: string) => quantities.get(`equivalent-square.${id.slice(prefix.length)}`);
  const smallest = fields.reduce<(typeof fields)[number] | undefined>((least, field) => {
    const [a, b] = [least && size(least.id), size(field.id)];
    return b && (!a || b.value < a.value) ? field : least;
  }, undefined);
  return smallest ? `smallest ${smallest.id.slice(prefix.length)}: Ω ${number(smallest)}` : "";
}

function present<T>(items: readonly T[], text: (item: T) => string | undefined): string {
  return items
    .map(text)
    .filter((part) => part !== undefined)
    .join(", ");
}
