// Where the facts of the rules were read. Codes are copyrighted: they are cited, and said in our own words.

/**
 * How strong a source is. A: a code or standard publisher, a government page, or adopted code text. B: an established
 * page that explains codes, or trade press. C: a secondary page, used only where it agrees with A or B.
 */
export type SourceStrength = 'A' | 'B' | 'C'

export interface Source {
  readonly strength: SourceStrength
  readonly what: string
}

const source = (strength: SourceStrength, what: string): Source => ({ strength, what })

export const sources = {
  S1: source(
    'A',
    'iccsafe.org, Building Safety Journal: doors in the means of egress, electrical locking systems',
  ),
  S2: source('A', 'dps.mn.gov, State Fire Marshal: sensor release of electrically locked egress doors'),
  S3: source('B', 'campussafetymagazine.com: codes for electrified locks in health care, part 5'),
  S4: source('B', 'electricallicenserenewal.com, section 593: delayed egress'),
  S5: source('A', '2020 Minnesota State Fire Code, chapter 10 (IFC 2018 with state amendments)'),
  S6: source('A', 'up.codes: door hardware release (2019 California text, 2018 base)'),
  S7: source('C', 'table of a metric national adoption based on IBC 2021'),
  S8: source('C', 'quotations of IBC 2021 through a state adoption'),
  S9: source('A', 'law.cornell.edu: Ohio Administrative Code 4101:1-10-01'),
  S10: source('B', 'idighardware.com, June 2021: a panic hardware exception'),
  S11: source('B', 'idighardware.com, April 2026: panic hardware on electrical rooms'),
  S12: source('B', 'thebuildingcodeforum.com: exit access from an elevator lobby'),
  S13: source('C', 'secondary page on the elevator lobby section of 2024; address not kept'),
  S14: source('B', 'usglassmag.com: electromagnetic locks released by a sensor'),
  S15: source('B', 'usglassmag.com: electromagnetic locks with door hardware release'),
  S18: source('B', 'securitytoday.com, April 2016: following the code'),
  S21: source('B', 'campussafetymagazine.com: codes for electrified locks in health care, part 7'),
  S22: source('B', 'secondary page on stair doors; address not kept'),
  S23: source('B', 'locksmithledger.com: know the code'),
  S24: source('B', 'campussafetymagazine.com: codes for electrified locks in health care, part 8'),
  S25: source('B', 'idighardware.com, September 2023: panic hardware on doors serving assembly'),
  S26: source('B', 'idighardware.com, October 2016: where panic hardware is needed'),
  S27: source('B', 'idighardware.com: electric strikes on fire doors, short form'),
  S28: source('B', 'idighardware.com, October 2014: electric strikes on fire door assemblies'),
  S29: source('B', 'idighardware.com, June 2012: electric strikes on fire doors'),
  S30: source('A', 'codelibrary.amlegal.com: New York City building code, chapter 10'),
  S31: source('B', 'idighardware.com, October 2014, November 2017 and June 2021: delayed egress'),
  S32: source('B', 'campussafetymagazine.com: codes for electrified locks in health care, part 4'),
  S33: source('B', 'usglassmag.com: controlled egress'),
  S35: source('B', 'locksmithledger.com: code requirements for stairwell doors'),
  S36: source('A', 'ilga.gov: a state statute on stair doors (425 ILCS 55)'),
  S37: source('B', 'idighardware.com, November 2022 and February 2024: stairwell re-entry'),
  S38: source('B', 'idighardware.com, August 2013: elevator lobby egress'),
  S39: source('B', 'idighardware.com, July 2017: access-controlled egress doors'),
  S43: source('C', 'secondary page on delayed egress in NFPA 101; address not kept'),
  S44: source('A', 'firesafety.vermont.gov: delayed egress, code highlights'),
  S45: source('C', 'secondary page quoting NFPA 101 7.2.1.6.1.1; address not kept'),
  S47: source('B', 'locksmithledger.com: code requirements for electromagnetic locks'),
  S48: source('A', 'community.nfpa.org, February 2017: electrically controlled egress doors'),
  S49: source('B', 'electricallicenserenewal.com, section 595: elevator lobby'),
  S50: source('B', 'secondary page on stair re-entry in NFPA 101; address not kept'),
  S53: source('B', 'idighardware.com, July 2020: touchless fire doors'),
  S54: source('B', 'idighardware.com, July 2018: magnets on fire doors'),
  S55: source('A', 'obc.hyperlinked.ca: annex to 3.4.6.16 of an Ontario building code'),
  S56: source('B', 'idighardware.com, December 2018 and October 2022: job-site preparations of fire doors'),
  S57: source('B', 'idighardware.com, October 2014: alterations to fire door assemblies'),
  S58: source('B', 'secondary page on raceways and larger holes; address not kept'),
  S59: source('B', 'idighardware.com, September 2014: fire doors for security professionals'),
  S67: source(
    'B',
    'idighardware.com, December 2010, and thebuildingcodeforum.com: NFPA 72 on access control',
  ),
  S69: source('C', 'est3www.thealarmtech.com: NFPA 72 2007, electrically locked doors'),
  S70: source('B', 'securityinfowatch.com: locking down door codes'),
  S92: source('A', 'buildershardware.com: A156.24-2022 delayed egress locking systems'),
  S127: source('C', 'fleetwoodusa.com: ADA guidelines, 404.2.7'),
  S16: source('B', 'idighardware.com: normal locking arrangements'),
  S17: source('B', 'idighardware.com: special locking arrangements'),
  S46: source('C', 'secondary page on delayed egress by occupancy; address not kept'),
} as const satisfies Readonly<Record<string, Source>>

export type SourceId = keyof typeof sources
