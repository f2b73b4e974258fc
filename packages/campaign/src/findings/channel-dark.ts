import { median } from "@alcedo-dosimetry/metrology";
import type { Finding } from "../finding.ts";
import { percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A share of light that no length of fibre makes: from no fibre to a metre the colours change by less than tenfold. */
const SHARE = 0.1;

/** A channel that shows next to nothing in a condition where the others show what they should. */
export const channelDark: Rule = {
  code: "channel-dark",
  level: "warning",
  sees: "a channel's share of the light below a tenth of what it is in half of the conditions",
  threshold: { value: SHARE, unit: "1", source: "proposed default: fibre changes the colours by far less" },
  check({ signals, channels }) {
    // a condition without any light has no shares; other findings speak of it
    const lit = signals.flatMap(({ series, condition, signals: own }) => {
      const total = own.reduce((sum, { value }) => sum + value, 0);
      return total > 0 ? [{ series, condition, shares: own.map(({ value }) => value / total) }] : [];
    });
    if (lit.length < 3) return [];
    return channels.flatMap((channel, c): Finding[] => {
      const typical = median(lit.map(({ shares }) => shares[c]!));
      return lit.flatMap(({ series, condition, shares }): Finding[] => {
        const share = shares[c]!;
        if (!(share < SHARE * typical)) return [];
        return [
          {
            level: "warning",
            code: "channel-dark",
            message: `${series}, condition ${condition}: ${channel} shows ${percent(share)} of the light, and ${percent(typical)} usually.`,
            effect: "The stem light taken away there is wrong, and with it the corrected signal.",
            remedy: `See whether ${channel} was connected and switched on; read ${condition} again.`,
            where: { series, condition, column: `signal_${channel}` },
            facts: { share, typical: Number(significant(typical, 6)) },
          },
        ];
      });
    });
  },
};
