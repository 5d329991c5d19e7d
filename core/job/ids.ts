/** An identifier of one kind of record; two kinds never mix, though both are text. */
export type Id<Kind extends string> = string & { readonly __kind: Kind }

/** Takes text that is already known to name a record of this kind. */
export const asId = <Kind extends string>(text: string): Id<Kind> => text as Id<Kind>
