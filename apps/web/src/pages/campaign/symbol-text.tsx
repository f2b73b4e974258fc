import { Fragment } from "react";

/** A symbol with its index set lower: `Ω_cone-5` → Ω with cone-5 beneath. */
export function SymbolText({ symbol }: { readonly symbol: string }) {
  const at = symbol.indexOf("_");
  if (at < 0) return <var className="symbol">{symbol}</var>;
  return (
    <Fragment>
      <var className="symbol">{symbol.slice(0, at)}</var>
      <sub className="symbol-index">{symbol.slice(at + 1)}</sub>
    </Fragment>
  );
}
