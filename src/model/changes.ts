/** Number and date of an issue. */
export interface IssueName {
  number: string;
  date: string;
}

/** What changed against the issue before, in words for the reader; `null` in a draft and in a first issue. */
export interface IssueChanges {
  /** The issue compared with: the last for the same reader, else the last of all. */
  before: IssueName;
  /** Issues for the same reader and of the same visit, which this one takes the place of, oldest first. */
  superseded: IssueName[];
  /** Issues that stand beside it: for other readers or of other visits. */
  beside: (IssueName & { edition: string; seenOn: string | null })[];
  /** One sentence fragment a change, sorted by kind and then by name. Empty where nothing that counts changed. */
  changes: string[];
}
