import type { ReactNode } from "react";
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from "react-aria-components";
import { Button } from "./button.tsx";
import "./dialog.css";

/** What a dialogue is made of. */
export interface DialogProps {
  readonly title: string;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** The buttons at its foot; one that closes it unless given. */
  readonly foot?: ReactNode;
  /** Takes more of the width: tables. */
  readonly wide?: boolean;
}

/** A sheet laid over the page until it is closed, by its button or by Esc. */
export function Dialog({ title, isOpen, onClose, children, foot, wide = false }: DialogProps) {
  return (
    <ModalOverlay
      className="dialog-overlay"
      isOpen={isOpen}
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
      isDismissable
    >
      <Modal className={wide ? "dialog-modal dialog-wide" : "dialog-modal"}>
        <AriaDialog className="dialog">
          <Heading slot="title" level={2}>
            {title}
          </Heading>
          <div className="dialog-body">{children}</div>
          <div className="dialog-foot">{foot ?? <Button onPress={onClose}>Close</Button>}</div>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
