// Package agreement measures how far people who answered the same questions agree
// with each other, and how often their answer was one of those accepted.
//
// It knows units (questions), raters (people) and answers, and nothing of quizzes.
// Answers are names without an order (nominal); the empty answer is a missing one.
// Everything is computed anew from a Table; intervals that are drawn by chance take
// a seed and are the same for the same seed.
//
// Agreement is not being right: a room may agree on an answer nobody accepts. So
// both are measured, Alpha and Kappa for the one, Share for the other.
//
// Sources:
//
//   - Alpha: K. Krippendorff, Computing Krippendorff's Alpha-Reliability (2011), for
//     nominal data with missing answers.
//   - Kappa: J. L. Fleiss, Measuring nominal scale agreement among many raters,
//     Psychological Bulletin 76 (1971), 378-382.
//   - Wilson's score interval of a share: E. B. Wilson, Probable inference, the law of
//     succession, and statistical inference, JASA 22 (1927), 209-212.
//   - Intervals of alpha: the units are drawn again with replacement and the 2.5th and
//     97.5th percentiles of alpha are taken (B. Efron and R. J. Tibshirani, An
//     Introduction to the Bootstrap, 1993, chapter 13, from memory). That the units
//     and not the people are drawn is common practice, no source; A. F. Hayes and
//     K. Krippendorff (2007) draw pairs of answers instead, with narrower intervals.
//   - The change of people who answered twice: Student's t interval of the mean of
//     their own changes (any textbook).
package agreement
