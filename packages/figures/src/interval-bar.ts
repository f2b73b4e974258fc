import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import type { Role } from "./role.ts";
import { rounded } from "./rounded.ts";

/** An upright bar from low to high with caps, as intervals are drawn. */
export function intervalBar(x: number, low: number, high: number, role: Role = "ink", cap = 4): DrawingElement {
  const [left, right, middle] = [rounded(x - cap), rounded(x + cap), rounded(x)];
  const [from, to] = [rounded(low), rounded(high)];
  return element("path", {
    d: `M${left} ${from}H${right}M${left} ${to}H${right}M${middle} ${from}V${to}`,
    fill: "none",
    stroke: role,
    "stroke-width": 1.2,
  });
}
