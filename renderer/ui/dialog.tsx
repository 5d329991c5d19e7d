import type { ReactNode } from 'react'
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components'

export interface DialogProps {
  readonly title: string
  readonly open: boolean
  /** Escape, or a press outside. */
  readonly onClose: () => void
  readonly children: ReactNode
  /** Buttons, the main one last. */
  readonly actions?: ReactNode
  readonly size?: 'small' | 'middle' | 'large'
  /** A press outside does not close it: something would be lost. */
  readonly holds?: boolean
}

export const Dialog = ({ title, open, onClose, children, actions, size = 'small', holds }: DialogProps) => (
  <ModalOverlay
    className="dialog-cover"
    isOpen={open}
    onOpenChange={(opens) => {
      if (!opens) onClose()
    }}
    isDismissable={holds !== true}
  >
    <Modal className={`dialog ${size}`}>
      <AriaDialog className="dialog-content">
        <Heading slot="title" className="dialog-title">
          {title}
        </Heading>
        <div className="dialog-body">{children}</div>
        {actions !== undefined && <div className="dialog-actions">{actions}</div>}
      </AriaDialog>
    </Modal>
  </ModalOverlay>
)
