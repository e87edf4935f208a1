/** Minor units other than 2, ISO 4217 list one of 2024-06-25. The runtime's own are those of CLDR, which leave HUF and others without. */
const decimals: Record<string, readonly string[]> = {
  0: ['BIF', 'CLP', 'DJF', 'GNF', 'ISK', 'JPY', 'KMF', 'KRW', 'PYG', 'RWF', 'UGX', 'UYI', 'VND', 'VUV', 'XAF', 'XOF', 'XPF'],
  3: ['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'],
  4: ['CLF', 'UYW'],
};

/** Decimals of an ISO 4217 currency; null for a code neither this table nor the runtime lists. */
export function decimalsOf(code: string): number | null {
  const digits = Object.keys(decimals).find((key) => decimals[key]?.includes(code));
  if (digits !== undefined) return Number(digits);
  return Intl.supportedValuesOf('currency').includes(code) ? 2 : null;
}

/** More minor units than this is a slip of the thumb, and sums of it would no longer be exact. */
export const mostMinor = 1e12;
