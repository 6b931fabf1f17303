// Figures as they are drawn, in the page's language: decimal comma or point, a true minus sign.
// The page says its language in <html lang>, which changes when another one is chosen.
const formats = new Map();

function format(options) {
  const language = document.documentElement.lang || "en";
  const key = language + JSON.stringify(options);
  if (!formats.has(key)) formats.set(key, new Intl.NumberFormat(language, options));
  return formats.get(key);
}

function written(value, options) {
  const text = format({ useGrouping: false, signDisplay: "negative", ...options }).format(value);
  return text.replace("-", "−");
}

/** With so many decimals. */
export function fixed(value, decimals) {
  return written(value, { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
}

/** As `fixed`, with a plus sign where it is above nought. */
export function signed(value, decimals) {
  return written(value, {
    minimumFractionDigits: decimals, maximumFractionDigits: decimals, signDisplay: "exceptZero",
  });
}

/** With so many decimals at most. */
export function rounded(value, decimals) {
  return written(value, { maximumFractionDigits: decimals });
}

/** With so many digits that count, at most. */
export function short(value, digits) {
  return written(value, { maximumSignificantDigits: digits });
}
