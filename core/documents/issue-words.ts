/** A bare number or letter says nothing in a row of others: "2" becomes "issue 2". */
export const issueWords = (name: string | null): string | null =>
  name !== null && /^(\d+|[A-Z])$/.test(name.trim()) ? `issue ${name.trim()}` : name
