/** Pixels packed into whole octets, ST 2110-20 §6.2.3 to §6.2.6 and RFC 4175 §4.3. */

/** The smallest run of pixels that ends on an octet; packets never split one. */
export interface PixelGroup {
  readonly octets: number;
  /** Pixels of one line it covers. */
  readonly columns: number;
  /** Lines it covers: two for 4:2:0. */
  readonly lines: 1 | 2;
}

/** The pixel group of a sampling and depth; undefined when ST 2110-20 has no such pair. */
export function pixelGroup(sampling: string, depth: string): PixelGroup | undefined {
  const family = FAMILY_OF.get(sampling.toLowerCase());
  return family === undefined ? undefined : GROUPS[family][depth === '16f' ? '16' : depth];
}

/** Whether ST 2110-20 knows the sampling at all. */
export function isSampling(sampling: string): boolean {
  return FAMILY_OF.has(sampling.toLowerCase());
}

type Family = '4:2:2' | '4:4:4' | 'XYZ' | '4:2:0' | 'KEY';

/** As SDP writes them, ST 2110-20 §7.4.1. */
export const SAMPLINGS: Readonly<Record<string, Family>> = {
  'YCbCr-4:2:2': '4:2:2',
  'CLYCbCr-4:2:2': '4:2:2',
  'ICtCp-4:2:2': '4:2:2',
  'YCbCr-4:4:4': '4:4:4',
  'CLYCbCr-4:4:4': '4:4:4',
  'ICtCp-4:4:4': '4:4:4',
  RGB: '4:4:4',
  XYZ: 'XYZ',
  'YCbCr-4:2:0': '4:2:0',
  'CLYCbCr-4:2:0': '4:2:0',
  'ICtCp-4:2:0': '4:2:0',
  KEY: 'KEY',
};

const FAMILY_OF = new Map(Object.entries(SAMPLINGS).map(([name, family]) => [name.toLowerCase(), family]));

const GROUPS: Readonly<Record<Family, Readonly<Record<string, PixelGroup>>>> = {
  '4:2:2': { 8: group(4, 2), 10: group(5, 2), 12: group(6, 2), 16: group(8, 2) },
  '4:4:4': { 8: group(3, 1), 10: group(15, 4), 12: group(9, 2), 16: group(6, 1) },
  XYZ: { 12: group(9, 2), 16: group(6, 1) },
  // RFC 4175 §4.3 gives 15 octets "for four pixels" at 10 bit; eight pixels of 4:2:0 are twelve samples, 120 bits.
  '4:2:0': { 8: group(6, 2, 2), 10: group(15, 4, 2), 12: group(9, 2, 2) },
  // Octets from memory: one component of that depth. The depths are those of ST 2110-20 §6.2.6.
  KEY: { 8: group(1, 1), 10: group(5, 4), 12: group(3, 2), 16: group(2, 1) },
};

function group(octets: number, columns: number, lines: 1 | 2 = 1): PixelGroup {
  return { octets, columns, lines };
}
