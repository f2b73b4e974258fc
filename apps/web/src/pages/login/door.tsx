import type { ReactNode } from "react";
import "./door.css";

/** What stands before the workbench: a sheet with a title, a word on why, and a form. */
export function Door({
  title,
  words,
  children,
}: {
  readonly title: string;
  readonly words: string;
  readonly children: ReactNode;
}) {
  return (
    <main className="door">
      <p className="door-name">alcedo</p>
      <section className="sheet door-sheet" aria-labelledby="door-title">
        <h1 id="door-title">{title}</h1>
        <p>{words}</p>
        {children}
      </section>
    </main>
  );
}
