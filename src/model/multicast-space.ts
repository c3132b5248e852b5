/**
 * The multicast address space: which block a group lies in, what is assigned there, how it maps to Ethernet.
 *
 * Pure functions over constant tables. IPv4 follows RFC 5771 and, where it is later, the IANA IPv4 Multicast Address
 * Space Registry (updated 2024-02-02); IPv6 follows RFC 4291 §2.7 with RFC 7346, RFC 3306, RFC 3956 and RFC 7371.
 */
export * from './multicast-space/assigned4.js';
export * from './multicast-space/assigned6.js';
export * from './multicast-space/blocks4.js';
export * from './multicast-space/derived4.js';
export * from './multicast-space/documentation.js';
export * from './multicast-space/ethernet.js';
export * from './multicast-space/groups6.js';
export * from './multicast-space/problems6.js';
export * from './multicast-space/scopes4.js';
export * from './multicast-space/source-specific.js';
