/** What RTP payload types mean (RFC 3551), and which of them a format may use. */
import type { Coding, Format, Leg } from '../../plan/types.js';

/** 72 to 76 with the marker bit are the RTCP packet types 200 to 204 (RFC 3551 §6). */
export function isControlType(type: number): boolean {
  return type >= 72 && type <= 76;
}

/** Whether the payload type of a leg has another meaning than the leg's format; silent where the format is not stated. */
export function misusesPayloadType({ payloadType: type, sender }: Leg): boolean {
  if (type === undefined) return false;
  if (isControlType(type)) return true;
  const { format } = sender;
  const coding = format?.coding;
  if (format === undefined || coding === undefined || coding === 'other') return false;
  if (FIXED[coding]?.(type, format) === true) return false;
  return STRICT.has(coding) || !isUnassigned(type);
}

/** ST 2110-10 §6.2 leaves its streams the dynamic types only; the older ST 2022-6 is taken to do the same. */
const STRICT: ReadonlySet<Coding> = new Set([
  'st2110-20',
  'st2110-22',
  'st2110-30',
  'st2110-31',
  'st2110-40',
  'st2110-41',
  'st2022-6',
]);

/** Types without a meaning, which RFC 3551 §3 allows once 96 to 127 are used up. */
function isUnassigned(type: number): boolean {
  return (
    (type >= 20 && type <= 24) ||
    type === 27 ||
    type === 29 ||
    type === 30 ||
    (type >= 35 && type <= 71) ||
    (type >= 77 && type <= 95)
  );
}

/** Codings that have fixed types besides dynamic ones (RFC 3551 §6, tables 4 and 5); facts not stated may fit. */
const FIXED: Readonly<Partial<Record<Coding, (type: number, format: Format) => boolean>>> = {
  'mpeg2-ts': (type) => type === 33,
  mjpeg: (type) => type === 26,
  'st2110-30': isPlainAudio,
  aes67: isPlainAudio,
};

/** 10 and 11: L16 at 44.1 kHz, stereo and mono. */
function isPlainAudio(type: number, { sampleRateHz = 44_100, sampleBits = 16, channels }: Format): boolean {
  if ((type !== 10 && type !== 11) || sampleRateHz !== 44_100 || sampleBits !== 16) return false;
  return channels === undefined || channels === (type === 10 ? 2 : 1);
}
