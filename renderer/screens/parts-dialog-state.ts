// Which question about parts and typicals stands before the person; the sheets of parts and typicals show it.
import { create } from 'zustand'

export type PartsDialog =
  | { readonly form: 'new part'; readonly likePartId: string | null }
  | { readonly form: 'new typical'; readonly likeTypicalId: string | null }
  | { readonly form: 'bring in' }

export const usePartsDialog = create<{ readonly dialog: PartsDialog | null }>()(() => ({ dialog: null }))

export const openPartsDialog = (dialog: PartsDialog | null): void => usePartsDialog.setState({ dialog })
