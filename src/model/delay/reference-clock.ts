/** The reference clock of a stream as SDP writes it (RFC 7273 §4). */
import { parseClockIdentity, type ClockIdentity } from '../../values/clock-identity.js';

export interface ReferenceClock {
  readonly kind: 'ptp' | 'traceable' | 'other';
  readonly grandmaster: ClockIdentity | undefined;
  readonly domain: number | undefined;
  /** For comparing: letters of one case, one separator, the domain as a bare number. */
  readonly key: string;
}

const PTP = /^ptp=([\w.]+-\d{4}):(traceable|(?:[0-9a-f]{2}[-:]){7}[0-9a-f]{2})(?::(?:domain-nmbr=)?(\d{1,3}))?$/i;

/** RFC 7273 erratum 4450 writes the domain bare; `domain-nmbr=` is read too. */
export function parseReferenceClock(text: string): ReferenceClock {
  const plain = text.trim();
  const match = PTP.exec(plain);
  if (match === null) return { kind: 'other', grandmaster: undefined, domain: undefined, key: plain.toLowerCase() };
  const [, version = '', who = '', number] = match;
  const domain = number === undefined ? undefined : Number(number);
  const traceable = who.toLowerCase() === 'traceable';
  return {
    kind: traceable ? 'traceable' : 'ptp',
    grandmaster: traceable ? undefined : parseClockIdentity(who),
    domain,
    key: `${version} ${who} ${domain ?? ''}`.toLowerCase().replaceAll(':', '-'),
  };
}
