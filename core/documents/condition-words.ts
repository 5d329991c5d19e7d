import type { ConditionName } from '../behaviour/index.ts'

/** The conditions as headings. */
export const conditionWords: Readonly<Record<ConditionName, string>> = {
  secured: 'Secured',
  'open hours': 'Open hours',
  'credential shown': 'Credential shown',
  'exit asked': 'Exit asked',
  'manual release': 'Manual release',
  'key turned': 'Key turned',
  'staff release': 'Released by staff',
  'other opening open': 'Other door open',
  'fire alarm': 'Fire alarm',
  'mains lost': 'Mains lost',
  'no power': 'No power',
  'sensor lost': 'Sensor lost',
  'controller silent': 'Controller silent',
  together: 'Together',
}
