import { createContext, useContext } from "react";
import { type DecimalSign, withDecimal } from "./decimal-sign.ts";

/** The decimal sign in force on the page; the shell provides the person's. */
export const Decimal = createContext<DecimalSign>(".");

/** Rewrites numbers of this page in the person's decimal sign. */
export function useDecimal(): (text: string) => string {
  const decimal = useContext(Decimal);
  return (text) => withDecimal(text, decimal);
}
