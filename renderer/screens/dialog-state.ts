/** Which question stands before the person. */
export type DialogState =
  | { readonly form: 'new job' }
  | { readonly form: 'add openings'; readonly levelId: string | null }
  | { readonly form: 'renumber'; readonly openingIds: readonly string[] }
  | { readonly form: 'move'; readonly openingIds: readonly string[] }
  | { readonly form: 'remove'; readonly openingIds: readonly string[] }
  | { readonly form: 'add level' }
  | { readonly form: 'add typical' }
  | { readonly form: 'columns' }
  | { readonly form: 'print' }
  | { readonly form: 'print cautions' }
  | { readonly form: 'paste rows' }
