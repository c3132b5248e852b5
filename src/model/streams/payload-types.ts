/** What RTP payload types mean (RFC 3551), and which of them a format may use. */
import { codingNamed } from '../../media/codings/index.js';
import type { Leg } from '../../plan/types.js';

/** 72 to 76 with the marker bit are the RTCP packet types 200 to 204 (RFC 3551 §6). */
export function isControlType(type: number): boolean {
  return type >= 72 && type <= 76;
}

/** 96 to 127 mean what the session says (RFC 3551 §3). */
const FIRST_DYNAMIC = 96;

/** Whether the payload type of a leg has another meaning than the leg's format; silent where the format is not stated. */
export function misusesPayloadType({ payloadType: type, sender }: Leg): boolean {
  if (type === undefined || type >= FIRST_DYNAMIC) return false;
  if (isControlType(type)) return true;
  const { format } = sender;
  const allowed = codingNamed(format?.coding)?.payloadTypes;
  if (format === undefined || allowed === undefined || allowed.isFixed?.(type, format) === true) return false;
  return allowed.dynamicOnly || !isUnassigned(type);
}

/**
 * Whether a leg is sent by RTP: a payload type says so, and every coding but one that nobody knows. Undefined where
 * neither is stated.
 */
export function isSentByRtp({ payloadType, sender }: Leg): boolean | undefined {
  if (payloadType !== undefined) return true;
  const coding = codingNamed(sender.format?.coding);
  return coding === undefined ? undefined : coding.comparedAs !== undefined;
}

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
