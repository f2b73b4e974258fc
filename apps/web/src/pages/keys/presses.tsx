import { Key } from "../../look/key.tsx";
import { printed } from "./key-registry.ts";
import "./presses.css";

/** The keys of one line as they are printed. */
export function Presses({ press }: { readonly press: string }) {
  return (
    <>
      {printed(press).map((parts) => (
        <span key={parts.join("+")} className="keys-press">
          {parts.map((part) => (
            <Key key={part}>{part}</Key>
          ))}
        </span>
      ))}
    </>
  );
}
