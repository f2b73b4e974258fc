import { useState } from "react";
import { Key } from "../../look/key.tsx";
import "./ask-line.css";

/** What a question at the console is made of. */
export interface AskLineProps {
  readonly question: string;
  readonly begin?: string;
  /** An empty answer is none. */
  readonly isNeeded?: boolean;
  readonly onAnswer: (answer: string) => void;
  readonly onLeave: () => void;
}

/** A question that is answered in one line: Enter takes it, Esc leaves it. */
export function AskLine({ question, begin = "", isNeeded = false, onAnswer, onLeave }: AskLineProps) {
  const [text, setText] = useState(begin);
  const [asked, setAsked] = useState(false);
  return (
    <div className="ask">
      <label className="ask-question" htmlFor="ask-line">
        {question}
      </label>
      <input
        id="ask-line"
        className="text-input ask-input"
        value={text}
        autoComplete="off"
        // biome-ignore lint/a11y/noAutofocus: the question was called by a key and is the only thing to be answered
        autoFocus
        aria-describedby="ask-keys"
        aria-invalid={asked && isNeeded && text.trim() === ""}
        onChange={({ target }) => setText(target.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape") onLeave();
          else if (event.key !== "Enter" || event.nativeEvent.isComposing) return;
          else if (isNeeded && text.trim() === "") setAsked(true);
          else onAnswer(text.trim());
          event.preventDefault();
          event.stopPropagation();
        }}
      />
      <p id="ask-keys" className="small muted">
        {asked && isNeeded && text.trim() === "" ? "A reason is needed: it stands beside the reading for good. " : ""}
        <Key>Enter</Key> take it <Key>Esc</Key> leave it
      </p>
    </div>
  );
}
