import { createHash, timingSafeEqual, webcrypto, X509Certificate } from 'node:crypto';
import * as asn1js from 'asn1js';
import * as pkijs from 'pkijs';

/** What a time stamp token says, and whether it holds. */
export interface TokenVerdict {
  /** Why it does not hold, as sentences without a full stop; empty where it does. */
  faults: string[];
  /** UTC, `2026-03-15T10:12:41Z`; null where it cannot be read. */
  time: string | null;
  /** Who signed, by the name in the certificate within. */
  signer: string | null;
}

const ids = { signedData: '1.2.840.113549.1.7.2', tstInfo: '1.2.840.113549.1.9.16.1.4', contentType: '1.2.840.113549.1.9.3', timeStamping: '1.3.6.1.5.5.7.3.8', certificateV1: '1.2.840.113549.1.9.16.2.12', certificateV2: '1.2.840.113549.1.9.16.2.47', usage: '2.5.29.37' };
/** Hashes a token may be made with (RFC 8933 and NIST: SHA-1 and MD5 no longer). */
const digests: Readonly<Record<string, string>> = { '2.16.840.1.101.3.4.2.1': 'sha256', '2.16.840.1.101.3.4.2.2': 'sha384', '2.16.840.1.101.3.4.2.3': 'sha512', '2.16.840.1.101.3.4.2.4': 'sha224' };

/**
 * Checks a time stamp response (RFC 3161), or a bare token, against the bytes it should be over: status, message imprint,
 * and the signature by the certificate within, which must be one for time stamping and valid at that time. Whether the
 * certificate leads to a root anybody trusts is not judged.
 */
export async function checkToken(token: Uint8Array, data: Uint8Array): Promise<TokenVerdict> {
  const verdict: TokenVerdict = { faults: [], time: null, signer: null };
  try {
    const content = contentOf(token, verdict);
    if (content === null) return verdict;
    if (content.contentType !== ids.signedData) throw new Error('not signed data');
    await judge(new pkijs.SignedData({ schema: content.content }), data, verdict, Buffer.from(token));
  } catch {
    verdict.faults.push('The token cannot be read: it is no time stamp, or damaged');
  }
  return verdict;
}

/** The signed token within; null and a fault where the authority refused. */
function contentOf(token: Uint8Array, verdict: TokenVerdict): pkijs.ContentInfo | null {
  const parsed = asn1js.fromBER(token);
  if (parsed.offset !== token.length || !fills(Buffer.from(token), 0, token.length)) throw new Error('more or less than one value');
  // A bare token begins with its type, a response with its status.
  if ((parsed.result as asn1js.Sequence).valueBlock.value[0] instanceof asn1js.ObjectIdentifier) return new pkijs.ContentInfo({ schema: parsed.result });
  const response = new pkijs.TimeStampResp({ schema: parsed.result });
  // 0 granted, 1 granted with modifications (RFC 3161 section 2.4.2).
  if (![0, 1].includes(response.status.status) || !response.timeStampToken) {
    verdict.faults.push(`The authority did not grant it (status ${response.status.status})`);
    return null;
  }
  return response.timeStampToken;
}

async function judge(signed: pkijs.SignedData, data: Uint8Array, verdict: TokenVerdict, token: Buffer): Promise<void> {
  const { eContent, eContentType } = signed.encapContentInfo;
  if (eContentType !== ids.tstInfo || !eContent) throw new Error('no TSTInfo');
  const bytes = Buffer.from(eContent.getValue());
  const info = new pkijs.TSTInfo({ schema: asn1js.fromBER(bytes).result });
  verdict.time = info.genTime.toISOString().replace('.000Z', 'Z');
  const digest = digests[info.messageImprint.hashAlgorithm.algorithmId];
  if (digest === undefined) verdict.faults.push('The token was made with a hash that is not taken any more');
  else if (!same(createHash(digest).update(data).digest(), Buffer.from(info.messageImprint.hashedMessage.valueBlock.valueHexView))) verdict.faults.push('The token is over other bytes than this manifest-sha256.txt');
  // Versions and algorithms outside the signature, as RFC 5652 sections 5.1 and 5.3 have them.
  const [signer, ...more] = signed.signerInfos;
  if (signed.version !== 3 || signer?.version !== 1 || !signed.digestAlgorithms.some((one) => one.algorithmId === signer.digestAlgorithm.algorithmId)) throw new Error('not as signed data is built');
  const certificates = (signed.certificates ?? []).filter((one) => one instanceof pkijs.Certificate);
  const certificate = certificates.find((one) => signer?.sid instanceof pkijs.IssuerAndSerialNumber && one.issuer.isEqual(signer.sid.issuer) && one.serialNumber.isEqual(signer.sid.serialNumber));
  if (!signer || more.length > 0) return void verdict.faults.push('The token is not signed by exactly one authority');
  if (!certificate) return void verdict.faults.push('The certificate of the signer is not within; ask the authority for a token with it');
  const der = Buffer.from(certificate.toSchema(true).toBER());
  // A reader that mends what it reads would find nothing wrong with a certificate that was altered.
  if (!token.includes(der)) throw new Error('certificate not as it is written');
  verdict.signer = nameOf(new X509Certificate(der));
  certificateFaults(certificate, signer, der, info.genTime, verdict);
  if (!(await signatureHolds(signer, certificate, bytes))) verdict.faults.push('The signature does not match what it signs: the token was altered');
}

/** Message digest and content type among the signed attributes, and the signature over all of these (RFC 5652 section 5.4). */
async function signatureHolds(signer: pkijs.SignerInfo, certificate: pkijs.Certificate, content: Buffer): Promise<boolean> {
  const digest = digests[signer.digestAlgorithm.algorithmId];
  const attributes = signer.signedAttrs;
  if (digest === undefined || !attributes) return false;
  const value = (id: string): asn1js.AsnType | undefined => attributes.attributes.find((one) => one.type === id)?.values[0];
  const [hash, type] = [value('1.2.840.113549.1.9.4'), value(ids.contentType)];
  if (!(hash instanceof asn1js.OctetString) || !same(Buffer.from(hash.valueBlock.valueHexView), createHash(digest).update(content).digest())) return false;
  if (!(type instanceof asn1js.ObjectIdentifier) || type.valueBlock.toString() !== ids.tstInfo) return false;
  const engine = new pkijs.CryptoEngine({ name: 'node', crypto: webcrypto as unknown as ConstructorParameters<typeof pkijs.CryptoEngine>[0]['crypto'] });
  return engine.verifyWithPublicKey(attributes.encodedValue, signer.signature, certificate.subjectPublicKeyInfo, signer.signatureAlgorithm, digest.replace('sha', 'SHA-')).catch(() => false);
}

/** What RFC 3161 section 2.3 asks of the certificate, and that the token names this one (RFC 5816). */
function certificateFaults(certificate: pkijs.Certificate, signer: pkijs.SignerInfo, der: Buffer, time: Date, { faults }: TokenVerdict): void {
  const usage = certificate.extensions?.find((one) => one.extnID === ids.usage);
  const purposes = usage?.parsedValue instanceof pkijs.ExtKeyUsage ? usage.parsedValue.keyPurposes : [];
  if (purposes.length !== 1 || purposes[0] !== ids.timeStamping || !usage?.critical) faults.push('The certificate within is not one for time stamping alone');
  if (time < certificate.notBefore.value || time > certificate.notAfter.value) faults.push('The certificate within was not valid at that time');
  const named = signer.signedAttrs?.attributes.find((one) => one.type === ids.certificateV2 || one.type === ids.certificateV1);
  const encoded = named ? Buffer.from(named.toSchema().toBER()) : Buffer.alloc(0);
  const candidates = ['sha1', 'sha256', 'sha384', 'sha512'].map((digest) => createHash(digest).update(der).digest());
  if (!candidates.some((hash) => encoded.includes(hash))) faults.push('The token does not name the certificate within');
}

function nameOf(certificate: X509Certificate): string {
  const part = (key: string): string | undefined => new RegExp(`^${key}=(.*)$`, 'm').exec(certificate.subject)?.[1];
  return [part('CN'), part('O')].filter((one) => one !== undefined).join(', ') || 'no name in the certificate';
}

function same(a: Buffer, b: Buffer): boolean {
  return a.length === b.length && timingSafeEqual(a, b);
}

/** Whether values follow each other without a gap, and those within fill each one that holds others; definite lengths only, as DER has them. */
function fills(bytes: Buffer, start: number, end: number): boolean {
  let at = start;
  while (at < end) {
    const [tag = 0, first = 0x80] = bytes.subarray(at, Math.min(at + 2, end));
    const wide = first < 0x80 ? 0 : first & 0x7f;
    if (first === 0x80 || wide > 4 || at + 2 + wide > end) return false;
    const from = at + 2 + wide;
    const length = wide === 0 ? first : bytes.readUIntBE(at + 2, wide);
    if (from + length > end || ((tag & 0x20) !== 0 && !fills(bytes, from, from + length))) return false;
    at = from + length;
  }
  return at === end;
}
