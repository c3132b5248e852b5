import type { Mac } from './mac.js';

/** A 64-bit PTP clockIdentity (IEEE 1588-2008 §7.5.2.2). */
export type ClockIdentity = bigint;

const FORMS = [
  /^([0-9a-f]{2})([:-])(?:[0-9a-f]{2}\2){6}[0-9a-f]{2}$/i,
  /^[0-9a-f]{4}([.:-])(?:[0-9a-f]{4}\1){2}[0-9a-f]{4}$/i,
  /^[0-9a-f]{6}([.:-])[0-9a-f]{4}\1[0-9a-f]{6}$/i,
  /^[0-9a-f]{16}$/i,
];

/** Sixteen hexadecimal digits in pairs, in fours, as `02004a.fffe.100001`, or bare; undefined otherwise. */
export function parseClockIdentity(text: string): ClockIdentity | undefined {
  return FORMS.some((form) => form.test(text)) ? BigInt(`0x${text.replace(/[^0-9a-f]/gi, '')}`) : undefined;
}

/** Upper case with hyphens, as session descriptions write it (RFC 7273 §4.8). */
export function formatClockIdentity(identity: ClockIdentity): string {
  return identity
    .toString(16)
    .toUpperCase()
    .padStart(16, '0')
    .replace(/(..)(?!$)/g, '$1-');
}

/** FF-FE between the two halves of the MAC (IEEE 1588-2008 §7.5.2.2.2, from memory). */
export function identityFromMac(mac: Mac): ClockIdentity {
  const value = BigInt(mac);
  return ((value >> 24n) << 40n) | (0xfffen << 24n) | (value & 0xffffffn);
}
