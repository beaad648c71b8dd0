/** A length as it was typed: a bare number is one of the ruler; nothing is none. */
export const measured = (text: string, ruler: "inch" | "metric"): string | null => {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  return /[a-z"']$/i.test(trimmed) ? trimmed : `${trimmed} ${ruler === "inch" ? "in" : "cm"}`;
};
