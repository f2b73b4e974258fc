import { CAUTIONS } from "@alcedo-dosimetry/campaign";
import { problemKind } from "@alcedo-dosimetry/protocol";
import { useState } from "react";
import { refreshMe } from "../../app/session.ts";
import { Button } from "../../look/button.tsx";
import { TextField } from "../../look/text-field.tsx";
import { ask, errorWords, ProblemError } from "../../talk/ask.ts";
import { Door } from "./door.tsx";

/** The door of the workbench: shown wherever nobody is logged in, and gone where it was afterwards. */
export function LoginPage() {
  const [id, setId] = useState("");
  const [passphrase, setPassphrase] = useState("");
  const [isSending, setSending] = useState(false);
  const [trouble, setTrouble] = useState<{ readonly words: string; readonly isPassphrase: boolean }>();
  const send = async () => {
    if (id.trim() === "" || passphrase === "") return;
    setSending(true);
    setTrouble(undefined);
    try {
      await ask("login", { body: { id: id.trim(), passphrase } });
      await refreshMe();
    } catch (problem) {
      const isPassphrase = problem instanceof ProblemError && problemKind(problem.problem) === "wrong-passphrase";
      setTrouble({ words: errorWords(problem), isPassphrase });
      if (isPassphrase) setPassphrase("");
    } finally {
      setSending(false);
    }
  };
  return (
    <Door title="Log in" words="Others on this computer can reach this page too, so it asks who you are.">
      <form
        className="door-form"
        onSubmit={(event) => {
          event.preventDefault();
          void send();
        }}
      >
        <TextField label="Short name" value={id} onChange={setId} autoComplete="username" mono autoFocus isRequired />
        <TextField
          label="Passphrase"
          type="password"
          value={passphrase}
          onChange={setPassphrase}
          autoComplete="current-password"
          isRequired
          {...(trouble?.isPassphrase && { error: trouble.words })}
        />
        {trouble && !trouble.isPassphrase && (
          <p className="door-trouble" role="alert">
            △ {trouble.words}
          </p>
        )}
        <Button kind="main" type="submit" isDisabled={isSending}>
          {isSending ? "One moment …" : "Log in"}
        </Button>
      </form>
      <p className="muted small">
        Not known here yet? Ask somebody who is for an invitation: it is a link that works once. The first person's link
        is printed where the server was started.
      </p>
      <p className="muted small">{CAUTIONS}</p>
    </Door>
  );
}
