// Job files on the shelf, searched together.

export const libraryContract = {} as const
