declare module 'linebreak' {
  /** Line breaking opportunities of a text after Unicode Standard Annex #14. */
  export default class LineBreaker {
    constructor(text: string);
    /** The next place a line may (or must) end, as a UTF-16 offset; null at the end. */
    nextBreak(): { position: number; required: boolean } | null;
  }
}
