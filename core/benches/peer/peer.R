# The peer of the benchmark on unbalanced data: mixed model, all pairs with Tukey's adjustment and Satterthwaite's degrees of
# freedom, attribute by attribute. Usage: Rscript peer.R FILE   (a wide table)
suppressPackageStartupMessages({ library(lmerTest); library(emmeans) })
table <- read.csv(commandArgs(trailingOnly = TRUE)[1], stringsAsFactors = TRUE)
for (attribute in names(table)[-(1:3)]) {
  model <- lmer(reformulate(c("sample", "(1 | assessor)", "(1 | assessor:sample)"), attribute), data = table)
  print(anova(model))
  print(pairs(emmeans(model, ~ sample, lmer.df = "satterthwaite"), adjust = "tukey"))
}
