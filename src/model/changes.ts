/** What changed against the issue before, in words for the reader; `null` in a draft and in a first issue. */
export interface IssueChanges {
  /** Number and date of the issue before. */
  before: { number: string; date: string };
  /** One sentence fragment a change, sorted by kind and then by name. Empty where nothing that counts changed. */
  changes: string[];
}
