"use strict";
// The seal of an answer file: HMAC (Krawczyk, Bellare and Canetti, HMAC: Keyed-Hashing for Message Authentication, RFC
// 2104, 1997) over SHA-256 (NIST, Secure Hash Standard, FIPS 180-4, 2015). A browser's own is missing where a page is
// opened in a way that it does not take for secure, as a file on some phones.

const ROUNDS = new Uint32Array([
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
]);

const BEGINNING = [
  0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19,
];

const BLOCK = 64; // bytes

function turned(word, bits) {
  return (word >>> bits) | (word << (32 - bits));
}

/** The bytes with one bit set, zeros, and their length in bits at the end of a block. */
function padded(bytes) {
  const whole = new Uint8Array(Math.ceil((bytes.length + 9) / BLOCK) * BLOCK);
  whole.set(bytes);
  whole[bytes.length] = 0x80;
  const end = new DataView(whole.buffer);
  end.setUint32(whole.length - 8, Math.floor(bytes.length / 2 ** 29));
  end.setUint32(whole.length - 4, (bytes.length * 8) >>> 0);
  return end;
}

function spread(data, at) {
  const words = new Uint32Array(64);
  for (let t = 0; t < 64; t++) {
    if (t < 16) {
      words[t] = data.getUint32(at + 4 * t);
      continue;
    }
    const early = words[t - 15], late = words[t - 2];
    const low = turned(early, 7) ^ turned(early, 18) ^ (early >>> 3);
    const high = turned(late, 17) ^ turned(late, 19) ^ (late >>> 10);
    words[t] = words[t - 16] + low + words[t - 7] + high;
  }
  return words;
}

function sha256(bytes) {
  const state = new Uint32Array(BEGINNING), data = padded(bytes);
  for (let at = 0; at < data.byteLength; at += BLOCK) {
    const words = spread(data, at);
    let [a, b, c, d, e, f, g, h] = state;
    for (let t = 0; t < 64; t++) {
      const one = h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + ROUNDS[t] + words[t];
      const two = (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
    }
    [a, b, c, d, e, f, g, h].forEach((word, i) => { state[i] += word; });
  }
  const hash = new DataView(new ArrayBuffer(32));
  state.forEach((word, i) => hash.setUint32(4 * i, word));
  return new Uint8Array(hash.buffer);
}

function hmac(key, bytes) {
  const block = new Uint8Array(BLOCK);
  block.set(key.length > BLOCK ? sha256(key) : key);
  const before = mask => block.map(byte => byte ^ mask);
  return sha256(joined(before(0x5c), sha256(joined(before(0x36), bytes))));
}

function joined(first, second) {
  const both = new Uint8Array(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}

function hex(bytes) {
  return Array.from(bytes, byte => byte.toString(16).padStart(2, "0")).join("");
}

function unhex(text) {
  return Uint8Array.from(text.match(/../g) || [], pair => parseInt(pair, 16));
}

/** JSON with the keys of every object sorted and no blanks. */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const pairs = Object.keys(value).sort().map(key => `${JSON.stringify(key)}:${canonical(value[key])}`);
  return `{${pairs.join(",")}}`;
}

/** What an answer file says, with its digest under the page's secret. */
function sealed(content, secret) {
  const digest = hmac(unhex(secret), new TextEncoder().encode(canonical(content)));
  return { ...content, digest: hex(digest) };
}
