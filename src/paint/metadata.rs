//! What the file says about itself, for those who only read that (XMP: ISO 16684-1). No dates, no identifiers: the same plan
//! gives the same bytes next year.

use super::told::SAYS;
use crate::sheet::Job;
use lopdf::{Dictionary, dictionary};

/// The metadata stream, left plain so that anything can find it: its dictionary and its packet.
pub(super) fn metadata(job: &Job) -> (Dictionary, Vec<u8>) {
    let [before, behind] = SAYS;
    let says = job.says.as_ref().map_or_else(String::new, |says| format!("{before}{}{behind}\n", escaped(says)));
    let (title, language) = (escaped(&job.title), escaped(&job.language));
    let packet = format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n\
         <dc:format>application/pdf</dc:format>\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         {says}<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>\n\
         <xmp:CreatorTool>fieldsheaf</xmp:CreatorTool>\n\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>"
    );
    let dictionary = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    (dictionary, packet.into_bytes())
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
