import { numberText, type Quantities, quantityText } from "./quantity-text.ts";
import type { StageId } from "./result.ts";

/** A stage's own figure: what the stages below take from it. Empty where it has none. */
export function mainResult(id: StageId, quantities: Quantities, channels: readonly string[]): string {
  switch (id) {
    case "background":
      return present(channels, (channel) => {
        const rate = quantities.get(`background.${channel}`);
        return rate && `${channel} ${quantityText(rate)}`;
      });
    case "separation": {
      const ratio = quantities.get("separation.stem-ratio");
      const verified = quantities.get("separation.verified-stem-load");
      const weights = ratio
        ? `stem ratio ρ ${numberText(ratio)}`
        : present(channels, (channel) => {
            const weight = quantities.get(`separation.weight.${channel}`);
            return weight && `${weight.symbol} ${numberText(weight)}`;
          });
      return weights + (verified ? `, verified up to a stem load of ${numberText(verified)}` : "");
    }
    case "calibration": {
      const own = quantities.get("calibration.coefficient");
      return own ? `N_D ${quantityText(own)}` : "";
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
  return smallest ? `smallest ${smallest.id.slice(prefix.length)}: Ω ${numberText(smallest)}` : "";
}

function present<T>(items: readonly T[], text: (item: T) => string | undefined): string {
  return items
    .map(text)
    .filter((part) => part !== undefined)
    .join(", ");
}
