import { problemKind } from "@alcedo-dosimetry/protocol";
import { type ReactNode, useState } from "react";
import { Button } from "../../look/button.tsx";
import { TextField } from "../../look/text-field.tsx";
import { errorWords, ProblemError } from "../../talk/ask.ts";

/** What the end of a signature is made of. */
export interface PassphraseFormProps {
  /** What the button says. */
  readonly words: string;
  readonly isMain?: boolean;
  /** Why it cannot be signed now. */
  readonly hindrance?: string | undefined;
  readonly onSign: (passphrase: string) => Promise<void>;
  readonly children?: ReactNode;
}

/** The passphrase, asked again at every signature, and the button. */
export function PassphraseForm({ words, isMain = false, hindrance, onSign, children }: PassphraseFormProps) {
  const [passphrase, setPassphrase] = useState("");
  const [isSending, setSending] = useState(false);
  const [trouble, setTrouble] = useState<{ readonly words: string; readonly isPassphrase: boolean }>();
  const send = async () => {
    if (hindrance !== undefined || passphrase === "") return;
    setSending(true);
    setTrouble(undefined);
    try {
      await onSign(passphrase);
    } catch (problem) {
      const isPassphrase = problem instanceof ProblemError && problemKind(problem.problem) === "wrong-passphrase";
      setTrouble({ words: errorWords(problem), isPassphrase });
    } finally {
      setPassphrase("");
      setSending(false);
    }
  };
  return (
    <form
      className="sign-form"
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      {children}
      <TextField
        label="Your passphrase"
        hint="It opens your key for this one signature."
        type="password"
        autoComplete="current-password"
        value={passphrase}
        onChange={setPassphrase}
        {...(trouble?.isPassphrase && { error: trouble.words })}
      />
      {trouble && !trouble.isPassphrase && (
        <p className="sign-trouble" role="alert">
          △ {trouble.words}
        </p>
      )}
      {hindrance !== undefined && <p className="muted">{hindrance}</p>}
      <Button
        type="submit"
        kind={isMain ? "main" : "plain"}
        isDisabled={hindrance !== undefined || passphrase === "" || isSending}
      >
        {isSending ? "Signing …" : words}
      </Button>
    </form>
  );
}
