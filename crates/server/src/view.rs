//! What a lift is looked at as: data, calculation, site sheet or a drawing, and how that is written.

use std::convert::Infallible;

use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use ramwright_api::problem::{Fault, FaultCode, Problem};
use ramwright_api::read::nearest;
use ramwright_report::document::Paper;
use ramwright_report::drawing::{Theme, known};
use utoipa::IntoParams;

use crate::format::{Format, Wanted};
use crate::parameters;

/// The parameters, as the description shows them.
#[derive(IntoParams)]
#[into_params(parameter_in = Query)]
#[expect(dead_code, reason = "read by the description only; `Asked` reads the parameters")]
pub(crate) struct ViewParameters {
    /// Format of the answer. It wins over the header `Accept`. `html` and `pdf` are the calculation, `svg` is the plan, unless `view` says otherwise.
    #[param(inline, required = false)]
    format: SheetFormat,
    /// What to look at: a document (`html` or `pdf`) or a drawing (`svg`). With it, `format` can be left out.
    #[param(inline, required = false)]
    view: ViewName,
    /// For what a drawing is looked at; `light` if left out.
    #[param(inline, required = false)]
    theme: ThemeName,
    /// The pages of a document; `a4` if left out.
    #[param(inline, required = false)]
    paper: PaperName,
    /// The decimal mark of documents and drawings; `point` if left out.
    #[param(inline, required = false)]
    decimal: DecimalName,
}

/// The formats of an answer that has documents and drawings.
#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only")]
enum SheetFormat {
    Json,
    Csv,
    Html,
    Pdf,
    Svg,
}

/// What a lift can be looked at as.
#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only; a test holds it against the names used")]
enum ViewName {
    Calculation,
    SiteSheet,
    Plan,
    FreeBody,
    Elevation,
    Steps,
    Circuit,
    SharesChart,
    HeightsChart,
    UtilisationChart,
    PressureChart,
}

#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only")]
enum ThemeName {
    Light,
    Dark,
    Print,
}

#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only")]
enum PaperName {
    A4,
    Letter,
}

#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only")]
enum DecimalName {
    Point,
    Comma,
}

/// A document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sheet {
    Calculation,
    SiteSheet,
}

/// What is to be answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// JSON or CSV.
    Data(Format),
    /// A document as HTML.
    Html(Sheet),
    /// A document as PDF.
    Pdf(Sheet),
    /// A drawing, by its name.
    Drawing(&'static str),
}

/// What is to be answered, and how it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shown {
    pub(crate) view: View,
    pub(crate) theme: Theme,
    pub(crate) paper: Paper,
    pub(crate) decimal_comma: bool,
}

/// What a request says of it.
#[derive(Debug)]
pub(crate) struct Asked {
    wanted: Wanted,
    said: Vec<(String, String)>,
}

impl<S: Sync> FromRequestParts<S> for Asked {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Infallible> {
        let said = parameters::pairs(&parts.uri);
        Ok(Self { wanted: Wanted::from_request_parts(parts, state).await?, said })
    }
}

impl View {
    /// The format in which it goes out.
    pub(crate) const fn format(self) -> Format {
        match self {
            Self::Data(format) => format,
            Self::Html(_) => Format::Html,
            Self::Pdf(_) => Format::Pdf,
            Self::Drawing(_) => Format::Svg,
        }
    }
}

impl Shown {
    /// A text that differs wherever the answer may.
    pub(crate) fn name(self) -> String {
        format!("{self:?}")
    }
}

impl Asked {
    /// What to answer, and how.
    ///
    /// # Errors
    /// A word that no parameter takes, words that do not go together, or a format that the view does not have.
    pub(crate) fn choose(&self) -> Result<Shown, Problem> {
        let mut faults = Vec::new();
        let theme =
            self.word("theme", &[("light", Theme::Light), ("dark", Theme::Dark), ("print", Theme::Print)], &mut faults);
        let paper = self.word("paper", &[("a4", Paper::A4), ("letter", Paper::Letter)], &mut faults);
        let decimal = self.word("decimal", &[("point", false), ("comma", true)], &mut faults);
        let named = self.word("view", &views(), &mut faults);
        if !faults.is_empty() {
            return Err(Problem::invalid_request(faults));
        }
        let view = self.view(named)?;
        let without = |name: &str, said: bool, goes_with: &str| {
            said.then(|| {
                let detail = format!("The parameter {name} goes with {goes_with} only.");
                Fault::in_parameter(name, FaultCode::Inconsistent, detail)
                    .with_hint("leave it out, or ask for another view")
            })
        };
        let (is_page, is_drawing) = (matches!(view, View::Html(_) | View::Pdf(_)), matches!(view, View::Drawing(_)));
        let faults: Vec<Fault> = [
            without("theme", theme.is_some() && !is_drawing, "drawings"),
            without("paper", paper.is_some() && !is_page, "documents"),
            without("decimal", decimal.is_some() && !is_page && !is_drawing, "documents and drawings"),
        ]
        .into_iter()
        .flatten()
        .collect();
        if !faults.is_empty() {
            return Err(Problem::invalid_request(faults));
        }
        Ok(Shown {
            view,
            theme: theme.unwrap_or(Theme::Light),
            paper: paper.unwrap_or_default(),
            decimal_comma: decimal.unwrap_or(false),
        })
    }

    /// What is wanted where there is nothing to look at.
    ///
    /// # Errors
    /// A parameter that says how something is to be looked at.
    pub(crate) fn without_view(&self) -> Result<&Wanted, Problem> {
        let looks = ["view", "theme", "paper", "decimal"];
        let said = self.said.iter().filter(|(name, _)| looks.contains(&name.as_str()));
        let faults: Vec<Fault> = said
            .map(|(name, _)| {
                let detail = format!("The parameter {name} does not go with validate_only, which draws nothing.");
                Fault::in_parameter(name, FaultCode::Inconsistent, detail)
            })
            .collect();
        if faults.is_empty() { Ok(&self.wanted) } else { Err(Problem::invalid_request(faults)) }
    }

    fn view(&self, named: Option<Named>) -> Result<View, Problem> {
        let page =
            |sheet: Sheet, format: Format| if format == Format::Pdf { View::Pdf(sheet) } else { View::Html(sheet) };
        match named {
            Some(Named::Sheet(sheet)) => Ok(page(sheet, self.wanted.choose(&[Format::Html, Format::Pdf])?)),
            Some(Named::Drawing(name)) => self.wanted.choose(&[Format::Svg]).map(|_| View::Drawing(name)),
            None => {
                let all = [Format::Json, Format::Csv, Format::Html, Format::Pdf, Format::Svg];
                Ok(match self.wanted.choose(&all)? {
                    format @ (Format::Html | Format::Pdf) => page(Sheet::Calculation, format),
                    Format::Svg => View::Drawing("plan"),
                    data => View::Data(data),
                })
            }
        }
    }

    fn word<T: Copy>(&self, name: &str, words: &[(&str, T)], faults: &mut Vec<Fault>) -> Option<T> {
        let (_, said) = self.said.iter().find(|(own, _)| own == name)?;
        let found = words.iter().find(|(word, _)| word == said);
        if found.is_none() {
            let known = || words.iter().map(|(word, _)| *word);
            let fault =
                Fault::in_parameter(name, FaultCode::UnknownValue, format!("The parameter {name} takes no such word."))
                    .with_given(said.as_str())
                    .with_hint(format!("one of {}", known().collect::<Vec<_>>().join(", ")));
            faults.push(fault.with_nearest(nearest(said, known())));
        }
        found.map(|(_, value)| *value)
    }
}

/// What `view=` names.
#[derive(Clone, Copy, Debug)]
enum Named {
    Sheet(Sheet),
    Drawing(&'static str),
}

fn views() -> Vec<(&'static str, Named)> {
    let sheets = [("calculation", Named::Sheet(Sheet::Calculation)), ("site_sheet", Named::Sheet(Sheet::SiteSheet))];
    sheets.into_iter().chain(known().into_iter().map(|name| (name, Named::Drawing(name)))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use utoipa::PartialSchema;

    #[test]
    fn verify_the_views_described_are_those_that_are_known() {
        let described = serde_json::to_value(ViewName::schema()).unwrap()["enum"].clone();
        let known: Vec<&str> = views().into_iter().map(|(name, _)| name).collect();
        assert_eq!(described, serde_json::json!(known));
    }
}
