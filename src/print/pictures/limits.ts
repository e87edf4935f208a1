/** Most pixels that are decoded; a phone's largest mode is 200 million. */
export const pixelLimit = 210_000_000;
/** Longer than any whole picture of that size takes on a slow machine, our judgement. */
export const secondsPerPhoto = 30;
