// Issues, the binder, labels and the open workbook.

export const handoverContract = {} as const
